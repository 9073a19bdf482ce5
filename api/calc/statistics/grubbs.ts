import { mean, standardDeviation } from './sample.ts';
import { studentTTwoSidedP } from './student-t.ts';

/**
 * F. E. Grubbs' test for one outlier on either side (Technometrics 11, 1969, 1; NIST/SEMATECH e-Handbook of
 * Statistical Methods, 1.3.5.17.1): G = max|x − x̄|/s, and p = n·P(|T| > t) with n − 2 degrees of freedom and
 * t² = n(n − 2)G²/((n − 1)² − nG²), at most 1. Null for fewer than three values or none that differ.
 */
export function grubbsTest(values: readonly number[]): { index: number; g: number; p: number } | null {
  const n = values.length;
  const s = standardDeviation(values);
  if (n < 3 || !(s > 0)) return null;
  const centre = mean(values);
  const distances = values.map((value) => Math.abs(value - centre) / s);
  const g = Math.max(...distances);
  const left = (n - 1) ** 2 - n * g * g;
  const t = left > 0 ? Math.sqrt((n * (n - 2) * g * g) / left) : Number.POSITIVE_INFINITY;
  return {
    index: distances.indexOf(g),
    g,
    p: Math.min(1, n * studentTTwoSidedP({ t, degreesOfFreedom: n - 2 })),
  };
}
