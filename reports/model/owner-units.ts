import type { Measured } from '../../api/calc/measured.ts';
import { gptPerOzPerShortTon, gramsPerPound, gramsPerTroyOunce } from '../../api/calc/units.ts';
import { formatEstimate, NO_FIGURE } from './format.ts';

/** In which the owner has masses of lots, metal and grades shown. */
export interface OwnerUnits {
  massUnit: 'kg' | 'lb';
  metalUnit: 'g' | 'ozt';
  gradeUnit: 'g/t' | 'oz/short ton';
}

/** Masses of lots, metal and grades as they print, each without its unit, which stands in the head of its column. */
export function inOwnerUnits({ massUnit, metalUnit, gradeUnit }: OwnerUnits) {
  const massOf = (kg: number): number => (massUnit === 'lb' ? (1000 * kg) / gramsPerPound : kg);
  const metalOf = (grams: number): number => (metalUnit === 'ozt' ? grams / gramsPerTroyOunce : grams);
  const gradeOf = (gpt: number): number => (gradeUnit === 'oz/short ton' ? gpt / gptPerOzPerShortTon : gpt);
  const metalDecimals = metalUnit === 'ozt' ? 2 : 1;
  // Feed and tailings hold a few g/t: one decimal would not let their recovery be worked again.
  const gradeDecimals = (gpt: number): number => (gradeUnit === 'g/t' ? (gpt < 10 ? 2 : 1) : 4);
  const pair = (value: string, spread: string): string => `${value} ± ${spread}`;
  return {
    massUnit,
    metalUnit,
    gradeUnit,
    metalDecimals,
    mass: (kg: string | number | null): string =>
      kg === null ? NO_FIGURE : formatEstimate(massOf(Number(kg)), 1),
    metal: (grams: string | number | null): string =>
      grams === null ? NO_FIGURE : formatEstimate(metalOf(Number(grams)), metalDecimals),
    /** With twice its standard uncertainty. */
    metalWithSpread: (grams: Measured | null): string =>
      grams === null
        ? NO_FIGURE
        : pair(
            formatEstimate(metalOf(grams.value), metalDecimals),
            formatEstimate(metalOf(2 * grams.u), metalDecimals),
          ),
    /** Rounded as it prints, so that a column can be added up by hand. */
    roundedMetal: (grams: number): number => Number(metalOf(grams).toFixed(metalDecimals)),
    grade: (gpt: Measured | null): string =>
      gpt === null
        ? NO_FIGURE
        : pair(
            formatEstimate(gradeOf(gpt.value), gradeDecimals(gpt.value)),
            formatEstimate(gradeOf(2 * gpt.u), gradeDecimals(gpt.value)),
          ),
    ounces: (ozt: string | number): string =>
      formatEstimate(metalOf(Number(ozt) * gramsPerTroyOunce), metalUnit === 'ozt' ? 3 : 1),
  };
}

export type InOwnerUnits = ReturnType<typeof inOwnerUnits>;

/** A fraction as a percentage with twice its standard uncertainty. */
export function percentWithSpread(fraction: Measured | null): string {
  return fraction === null
    ? NO_FIGURE
    : `${formatEstimate(100 * fraction.value, 1)} ± ${formatEstimate(200 * fraction.u, 1)} %`;
}
