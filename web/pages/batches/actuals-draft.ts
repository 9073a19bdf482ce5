import type { Batch } from '../../../api/schemas/batch.ts';
import type { Supply } from '../../../api/schemas/supply.ts';
import type { Treatment } from '../../../api/schemas/treatment.ts';
import { chargeSheetOfRecords } from '../../../api/calc/facts/charge-sheet-records.ts';
import { Dec, sumOf } from '../../../api/calc/money.ts';
import type { OwnerChoices } from '../../lib/owner.ts';
import { decimalOf, editableText } from '../../lib/parse-decimal.ts';
import { shownText, storedOf } from '../../lib/quantities.ts';

/** What came of a batch as it is typed. Named as the fields that are sent. */
export interface ActualsDraft {
  status: Batch['status'];
  startedOn: string;
  finishedOn: string;
  furnaceHours: string;
  labourHours: string;
  leadInKg: string;
  leadBackKg: string;
  consumption: { supplyId: string; quantity: string }[];
  remarks: string;
}

export const actualsDraftOf = (batch: Batch, owner: OwnerChoices): ActualsDraft => ({
  status: batch.status,
  startedOn: batch.startedOn ?? '',
  finishedOn: batch.finishedOn ?? '',
  furnaceHours: editableText(batch.furnaceHours, owner),
  labourHours: editableText(batch.labourHours, owner),
  leadInKg: shownText('lotMassKg', batch.leadInKg, owner),
  leadBackKg: shownText('lotMassKg', batch.leadBackKg, owner),
  consumption: batch.consumption.map(({ supplyId, quantity }) => ({
    supplyId,
    quantity: editableText(quantity, owner),
  })),
  remarks: batch.remarks,
});

/** What is sent; only for a draft whose fields have been accepted. */
export function actualsFromDraft(draft: ActualsDraft, owner: OwnerChoices) {
  return {
    status: draft.status,
    startedOn: draft.startedOn === '' ? null : draft.startedOn,
    finishedOn: draft.finishedOn === '' ? null : draft.finishedOn,
    furnaceHours: decimalOf(draft.furnaceHours, owner),
    labourHours: decimalOf(draft.labourHours, owner),
    leadInKg: storedOf('lotMassKg', draft.leadInKg, owner),
    leadBackKg: storedOf('lotMassKg', draft.leadBackKg, owner),
    consumption: draft.consumption.map(({ supplyId, quantity }) => ({
      supplyId,
      quantity: decimalOf(quantity, owner) ?? '',
    })),
    remarks: draft.remarks,
  };
}

/**
 * What the charge sheet asks for the whole batch, to be corrected to what was used: everything as it is weighed
 * out, fuel, crucibles and cupels, hours and metallic lead. Null where there is no sheet.
 */
export function byRecipe(
  batch: Pick<Batch, 'dryMassKg'>,
  {
    treatment,
    supplies,
    weighingStepG,
  }: { treatment: Treatment; supplies: readonly Supply[]; weighingStepG: string },
  owner: OwnerChoices,
): Pick<ActualsDraft, 'furnaceHours' | 'labourHours' | 'leadInKg' | 'consumption'> | null {
  const { sheet } = chargeSheetOfRecords({
    dryMassKg: batch.dryMassKg,
    lot: { minerals: [] },
    treatment,
    supplies,
    weighingStepG,
  });
  if (sheet === null) return null;
  const isLead = (supplyId: string | null): boolean =>
    supplies.find((supply) => supply.id === supplyId)?.kind === 'lead';
  const used: [supplyId: string | null, quantity: string | undefined][] = [
    ...sheet.lines.map((line): [string | null, string] => [line.supplyId, line.totalKg]),
    [treatment.fuelSupplyId, sheet.fuel?.total],
    [treatment.crucibleSupplyId, sheet.crucibles?.count.toFixed()],
    [treatment.cupelSupplyId, sheet.cupels?.count.toFixed()],
  ];
  return {
    furnaceHours: editableText(sheet.furnaceHours, owner),
    labourHours: editableText(sheet.labourHours, owner),
    leadInKg: shownText(
      'lotMassKg',
      sumOf(used.map(([id, quantity]) => (isLead(id) ? (quantity ?? '0') : '0'))).toFixed(),
      owner,
    ),
    consumption: used.flatMap(([supplyId, quantity]) =>
      supplyId === null || isLead(supplyId) || quantity === undefined || new Dec(quantity).isZero()
        ? []
        : [{ supplyId, quantity: editableText(new Dec(quantity).toFixed(), owner) }],
    ),
  };
}
