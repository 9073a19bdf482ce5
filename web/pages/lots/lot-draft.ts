import type { z } from 'zod';
import type { Lot, newLot } from '../../../api/schemas/lot.ts';
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
