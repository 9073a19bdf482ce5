import type { Measured } from '../measured.ts';

/** Relative spreads below this are taken as this. */
export const SMALLEST_RELATIVE_SD = 1e-4;

/**
 * Adds to `logDensity`, for expected grades exp(firstLog + i × step) in g/t, the
 * ln density of observations (g/t) of it.
 *
 * Error model of two components: an observation is the expected grade × a
 * lognormal factor of mean 1 and relative spread `relativeSd`, plus a normal
 * error of the observation's own u. Source: D. M. Rocke, S. Lorenzato, *A
 * two-component model for measurement error in analytical chemistry*,
 * Technometrics 37 (1995). Its density by the transformation that makes the
 * spread even, asinh(y s / u) / s (B. P. Durbin et al., *A variance-stabilizing
 * transformation for gene-expression microarray data*, Bioinformatics 18, 2002):
 * normal where u rules, lognormal where the relative spread does.
 */
export function addLogLikelihood(
  logDensity: Float64Array,
  observations: Measured[],
  grid: { firstLog: number; step: number },
  relativeSd: number,
): void {
  const sd = Math.max(SMALLEST_RELATIVE_SD, relativeSd);
  const meanShift = -0.5 * sd * sd;
  const expectedGpt = new Float64Array(logDensity.length);
  for (let i = 0; i < expectedGpt.length; i++) {
    expectedGpt[i] = Math.exp(grid.firstLog + i * grid.step + meanShift);
  }
  for (const { value, u } of observations) {
    const scale = sd / Math.max(u, 1e-6 * Math.abs(value));
    const constant = -0.5 * Math.log(value * value + 1 / (scale * scale)) - Math.log(sd);
    const even = Math.asinh(value * scale);
    for (let i = 0; i < expectedGpt.length; i++) {
      const x = expectedGpt[i]! * scale;
      const z = (even - Math.log(x + Math.sqrt(x * x + 1))) / sd;
      logDensity[i]! += constant - 0.5 * z * z;
    }
  }
}
