import type { Measured } from '../measured.ts';
import { product, scale } from '../measured.ts';

/**
 * Metal in a mass, g: mass (kg) × grade (g/t) ÷ 1000, the uncertainties of weighing and assay together (JCGM
 * 100:2008, eq. 12). Null where the grade is not known.
 */
export function containedMetalG(massKg: Measured, gradeGpt: Measured | null): Measured | null {
  return gradeGpt === null ? null : scale(product(massKg, gradeGpt), 1 / 1000);
}
