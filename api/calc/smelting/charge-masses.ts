import type { DecimalNumber } from '../money.ts';
import { Dec, sumOf } from '../money.ts';
import type { RoundingRule } from '../rounding.ts';
import { roundBy } from '../rounding.ts';

/** Charges of one size: so many, each with so much concentrate. */
export interface ChargeGroup {
  count: number;
  concentrateG: DecimalNumber;
}

/**
 * Splits a batch into full charges and a last smaller one for what is left:
 * full = ⌊batch / size⌋, last = batch − full × size, exact in decimals. A batch below one charge is one charge.
 */
export function splitIntoCharges({
  dryMassKg,
  chargeSizeKg,
}: {
  dryMassKg: string;
  chargeSizeKg: number;
}): ChargeGroup[] {
  const batchG = new Dec(dryMassKg).times(1000);
  const sizeG = new Dec(chargeSizeKg).times(1000);
  const full = batchG.div(sizeG).floor();
  const last = batchG.minus(full.times(sizeG));
  return [
    { count: full.toNumber(), concentrateG: sizeG },
    { count: 1, concentrateG: last },
  ].filter((group) => group.count > 0 && group.concentrateG.gt(0));
}

/** A material as it is weighed out. */
export interface WeighedOut {
  /** Of each charge, in the order of the groups, g. */
  massG: DecimalNumber[];
  /** Σ count × mass, g. */
  totalG: DecimalNumber;
  /** Total by the recipe, before rounding, g. */
  byRecipeG: DecimalNumber;
}

/**
 * Masses of one material of the recipe for each size of charge: grams per 100 g × concentrate / 100, rounded
 * by the rule. The total is the sum of what is weighed out, so that it always adds up on paper; what rounding
 * makes of the recipe is the difference from `byRecipeG`.
 */
export function weighOut({
  groups,
  gramsPerHundredG,
  rounding,
}: {
  groups: readonly ChargeGroup[];
  gramsPerHundredG: string;
  rounding: RoundingRule;
}): WeighedOut {
  const exact = groups.map((group) => group.concentrateG.times(gramsPerHundredG).div(100));
  const massG = exact.map((mass) => roundBy(mass, rounding));
  const total = (masses: readonly DecimalNumber[]) =>
    sumOf(masses.map((mass, index) => mass.times(groups[index]?.count ?? 0)));
  return { massG, totalG: total(massG), byRecipeG: total(exact) };
}

/** Rounding to the step of the scale, such as '0.5' g, halves up. */
export function roundingToStep(weighingStepG: string): RoundingRule {
  return { decimals: new Dec(weighingStepG).decimalPlaces(), rule: 'half-up', multipleOf: weighingStepG };
}

/** How the masses on a sheet were rounded, for its foot. */
export function roundingStatement(weighingStepG: string): string {
  return (
    `Masses for each charge are rounded to multiples of ${weighingStepG} g, halves up; totals are the sum of what ` +
    `is weighed out.`
  );
}
