import type { z } from 'zod';
import type { Lot, newLot, newLotOfParts } from '../../../api/schemas/lot.ts';
import type { NewLotPart } from '../../../api/schemas/lot-part.ts';
import type { OwnerChoices } from '../../lib/owner.ts';
import { decimalOf, editableText, shiftPoint } from '../../lib/parse-decimal.ts';
import { shownText, storedOf } from '../../lib/quantities.ts';

/** A lot as it is typed: masses in the owner's unit, fractions in percent. Named as the fields that are sent. */
export interface LotDraft {
  seasonId: string;
  code: string;
  description: string;
  madeOn: string;
  wetMassKg: string;
  moistureFrac: string;
  minerals: { mineral: string; massFrac: string }[];
  remarks: string;
}

/** A part as it is typed: `day:<id>` and so on, with its dry mass. */
export interface LotPartDraft {
  sourceId: string;
  dryMassKg: string;
}

/** A new lot with what it is made from. */
export interface NewLotDraft extends LotDraft {
  parts: LotPartDraft[];
}

export const emptyLotDraft = (seasonId: string, madeOn: string): LotDraft => ({
  seasonId,
  code: '',
  description: '',
  madeOn,
  wetMassKg: '',
  moistureFrac: '',
  minerals: [],
  remarks: '',
});

const percentShown = (frac: string, owner: OwnerChoices): string => editableText(shiftPoint(frac, 2), owner);

/** A typed percentage as a fraction, exactly; nothing typed is nothing. */
export function fracOfPercent(typed: string, owner: { decimalComma: boolean }): string | null {
  const percent = decimalOf(typed, owner);
  return percent === null ? null : shiftPoint(percent, -2);
}

export const lotDraftOf = (lot: Lot, owner: OwnerChoices): LotDraft => ({
  seasonId: lot.seasonId,
  code: lot.code,
  description: lot.description,
  madeOn: lot.madeOn,
  wetMassKg: shownText('lotMassKg', lot.wetMassKg, owner),
  moistureFrac: percentShown(lot.moistureFrac, owner),
  minerals: lot.minerals.map(({ mineral, massFrac }) => ({
    mineral,
    massFrac: percentShown(massFrac, owner),
  })),
  remarks: lot.remarks,
});

/** What is sent; only for a draft whose fields have been accepted. */
export function lotFromDraft(draft: LotDraft, owner: OwnerChoices): z.input<typeof newLot> {
  return {
    seasonId: draft.seasonId,
    code: draft.code,
    description: draft.description,
    madeOn: draft.madeOn,
    wetMassKg: storedOf('lotMassKg', draft.wetMassKg, owner) ?? '',
    moistureFrac: fracOfPercent(draft.moistureFrac, owner) ?? '',
    minerals: draft.minerals.map((one) => ({
      mineral: one.mineral as Lot['minerals'][number]['mineral'],
      massFrac: fracOfPercent(one.massFrac, owner) ?? '',
    })),
    remarks: draft.remarks,
  };
}

/** Source and id of a part as it is chosen. */
export function sourceOf(chosen: string): Pick<NewLotPart, 'source' | 'sourceId'> {
  const [source = '', sourceId = ''] = chosen.split(':');
  return { source: source as NewLotPart['source'], sourceId };
}

/** What is sent of a new lot: its parts are taken on the day that it was made. */
export function newLotFromDraft(draft: NewLotDraft, owner: OwnerChoices): z.input<typeof newLotOfParts> {
  return {
    ...lotFromDraft(draft, owner),
    parts: draft.parts.map(({ sourceId, dryMassKg }) => ({
      ...sourceOf(sourceId),
      dryMassKg: storedOf('lotMassKg', dryMassKg, owner) ?? '',
      takenOn: draft.madeOn,
    })),
  };
}
