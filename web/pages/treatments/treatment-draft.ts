import type { z } from 'zod';
import type { newTreatment, Treatment } from '../../../api/schemas/treatment.ts';
import type { OwnerChoices } from '../../lib/owner.ts';
import { decimalOf, editableText, numberOf, shiftPoint } from '../../lib/parse-decimal.ts';
import { shownText, storedOf } from '../../lib/quantities.ts';

/** A treatment as it is typed: fractions in percent, fineness in parts of 1000. Named as the fields that are sent. */
export interface TreatmentDraft {
  name: string;
  description: string;
  roast: boolean;
  recipe: { supplyId: string; gramsPerHundredG: string }[];
  chargeSizeKg: string;
  roastHoursPerCharge: string;
  furnaceHoursPerCharge: string;
  labourHoursPerCharge: string;
  labourSupplyId: string;
  fuelSupplyId: string;
  fuelPerCharge: string;
  crucibleSupplyId: string;
  crucibleLifeCharges: string;
  cupelSupplyId: string;
  roastPanKg: string;
  leadReturnLowFrac: string;
  leadReturnModeFrac: string;
  leadReturnHighFrac: string;
  goldRecoveryMeanFrac: string;
  goldRecoverySdFrac: string;
  silverRecoveryMeanFrac: string;
  silverRecoverySdFrac: string;
  doreFinenessFrac: string;
  wasteCostPerKg: string;
  daysUntilBar: string;
  retired: boolean;
}

const percentFields = [
  'leadReturnLowFrac',
  'leadReturnModeFrac',
  'leadReturnHighFrac',
  'goldRecoveryMeanFrac',
  'goldRecoverySdFrac',
  'silverRecoveryMeanFrac',
  'silverRecoverySdFrac',
] as const;

export function treatmentDraftOf(
  treatment: z.input<typeof newTreatment>,
  owner: OwnerChoices,
): TreatmentDraft {
  const plain = (value: number | string): string => editableText(value, owner);
  const shifted = (frac: number, places: number): string =>
    editableText(shiftPoint(editableText(frac, { decimalComma: false }), places), owner);
  const percents = Object.fromEntries(
    percentFields.map((field) => [field, shifted(treatment[field], 2)]),
  ) as Pick<TreatmentDraft, (typeof percentFields)[number]>;
  return {
    ...percents,
    name: treatment.name,
    description: treatment.description ?? '',
    roast: treatment.roast,
    recipe: treatment.recipe.map(({ supplyId, gramsPerHundredG }) => ({
      supplyId,
      gramsPerHundredG: plain(gramsPerHundredG),
    })),
    chargeSizeKg: shownText('lotMassKg', treatment.chargeSizeKg, owner),
    roastHoursPerCharge: plain(treatment.roastHoursPerCharge),
    furnaceHoursPerCharge: plain(treatment.furnaceHoursPerCharge),
    labourHoursPerCharge: plain(treatment.labourHoursPerCharge),
    labourSupplyId: treatment.labourSupplyId ?? '',
    fuelSupplyId: treatment.fuelSupplyId ?? '',
    fuelPerCharge: plain(treatment.fuelPerCharge),
    crucibleSupplyId: treatment.crucibleSupplyId ?? '',
    crucibleLifeCharges: plain(treatment.crucibleLifeCharges),
    cupelSupplyId: treatment.cupelSupplyId ?? '',
    roastPanKg: shownText('lotMassKg', treatment.roastPanKg ?? null, owner),
    doreFinenessFrac: shifted(treatment.doreFinenessFrac, 3),
    wasteCostPerKg: plain(treatment.wasteCostPerKg),
    daysUntilBar: plain(treatment.daysUntilBar),
    retired: treatment.retired ?? false,
  };
}

/** What is sent; only for a draft whose fields have been accepted. Empty hours and fuel are none. */
export function treatmentFromDraft(
  draft: TreatmentDraft,
  owner: OwnerChoices,
): Omit<Treatment, 'id' | 'version'> {
  const number = (typed: string): number => numberOf(typed, owner) ?? 0;
  const massKgOrNull = (typed: string): number | null => {
    const stored = storedOf('lotMassKg', typed, owner);
    return stored === null ? null : Number(stored);
  };
  const shifted = (typed: string, places: number): number => {
    const decimal = decimalOf(typed, owner);
    return decimal === null ? 0 : Number(shiftPoint(decimal, places));
  };
  const percents = Object.fromEntries(
    percentFields.map((field) => [field, shifted(draft[field], -2)]),
  ) as Pick<Treatment, (typeof percentFields)[number]>;
  return {
    ...percents,
    name: draft.name,
    description: draft.description,
    roast: draft.roast,
    recipe: draft.recipe.map(({ supplyId, gramsPerHundredG }) => ({
      supplyId,
      gramsPerHundredG: decimalOf(gramsPerHundredG, owner) ?? '',
    })),
    chargeSizeKg: Number(storedOf('lotMassKg', draft.chargeSizeKg, owner) ?? 0),
    roastHoursPerCharge: draft.roast ? number(draft.roastHoursPerCharge) : 0,
    furnaceHoursPerCharge: number(draft.furnaceHoursPerCharge),
    labourHoursPerCharge: number(draft.labourHoursPerCharge),
    labourSupplyId: draft.labourSupplyId === '' ? null : draft.labourSupplyId,
    fuelSupplyId: draft.fuelSupplyId === '' ? null : draft.fuelSupplyId,
    fuelPerCharge: number(draft.fuelPerCharge),
    crucibleSupplyId: draft.crucibleSupplyId === '' ? null : draft.crucibleSupplyId,
    crucibleLifeCharges: number(draft.crucibleLifeCharges),
    cupelSupplyId: draft.cupelSupplyId === '' ? null : draft.cupelSupplyId,
    roastPanKg: draft.roast ? massKgOrNull(draft.roastPanKg) : null,
    doreFinenessFrac: shifted(draft.doreFinenessFrac, -3),
    wasteCostPerKg: decimalOf(draft.wasteCostPerKg, owner) ?? '0',
    daysUntilBar: number(draft.daysUntilBar),
    retired: draft.retired,
  };
}

export const emptyTreatmentDraft: TreatmentDraft = {
  name: '',
  description: '',
  roast: false,
  recipe: [],
  chargeSizeKg: '',
  roastHoursPerCharge: '',
  furnaceHoursPerCharge: '',
  labourHoursPerCharge: '',
  labourSupplyId: '',
  fuelSupplyId: '',
  fuelPerCharge: '',
  crucibleSupplyId: '',
  crucibleLifeCharges: '',
  cupelSupplyId: '',
  roastPanKg: '',
  leadReturnLowFrac: '',
  leadReturnModeFrac: '',
  leadReturnHighFrac: '',
  goldRecoveryMeanFrac: '',
  goldRecoverySdFrac: '',
  silverRecoveryMeanFrac: '',
  silverRecoverySdFrac: '',
  doreFinenessFrac: '',
  wasteCostPerKg: '',
  daysUntilBar: '',
  retired: false,
};
