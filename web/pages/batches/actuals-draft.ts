import type { Batch } from '../../../api/schemas/batch.ts';
import type { Supply } from '../../../api/schemas/supply.ts';
import type { Treatment } from '../../../api/schemas/treatment.ts';
import { Dec } from '../../../api/calc/money.ts';
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
 * What the recipe asks for the whole batch, to be corrected to what was used: each supply per 100 g × the dry
 * mass, fuel and hours per charge × the charges, crucibles by their life, the last one counted whole.
 */
export function byRecipe(
  batch: Batch,
  treatment: Treatment,
  supplies: readonly Supply[],
  owner: OwnerChoices,
): Pick<ActualsDraft, 'furnaceHours' | 'labourHours' | 'leadInKg' | 'consumption'> {
  const kg = (perHundredG: string): string =>
    new Dec(perHundredG).times(batch.dryMassKg).div(100).toDecimalPlaces(2).toFixed();
  const charges = Math.ceil(Number(batch.dryMassKg) / treatment.chargeSizeKg);
  const perCharge = (amount: number): string => new Dec(amount).times(charges).toDecimalPlaces(2).toFixed();
  const isLead = (supplyId: string): boolean =>
    supplies.find((supply) => supply.id === supplyId)?.kind === 'lead';
  const leadKg = treatment.recipe
    .filter(({ supplyId }) => isLead(supplyId))
    .reduce((sum, { gramsPerHundredG }) => sum.plus(kg(gramsPerHundredG)), new Dec(0));
  const consumption = treatment.recipe
    .filter(({ supplyId }) => !isLead(supplyId))
    .map(({ supplyId, gramsPerHundredG }) => ({ supplyId, quantity: kg(gramsPerHundredG) }));
  if (treatment.fuelSupplyId !== null && treatment.fuelPerCharge > 0)
    consumption.push({ supplyId: treatment.fuelSupplyId, quantity: perCharge(treatment.fuelPerCharge) });
  if (treatment.crucibleSupplyId !== null)
    consumption.push({
      supplyId: treatment.crucibleSupplyId,
      quantity: String(Math.ceil(charges / treatment.crucibleLifeCharges)),
    });
  return {
    furnaceHours: editableText(perCharge(treatment.furnaceHoursPerCharge), owner),
    labourHours: editableText(perCharge(treatment.labourHoursPerCharge), owner),
    leadInKg: shownText('lotMassKg', leadKg.toFixed(), owner),
    consumption: consumption.map(({ supplyId, quantity }) => ({
      supplyId,
      quantity: editableText(quantity, owner),
    })),
  };
}
