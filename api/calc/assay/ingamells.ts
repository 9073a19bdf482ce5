import { mean, standardDeviation } from '../statistics/sample.ts';
import { chiSquareQuantile } from '../statistics/chi-square.ts';

/** Repeat samples of one thing: the mass of each, g, what it gave, and the standard uncertainty that weighing makes of it. */
export type RepeatSamples = readonly { massG: number; value: number; uWeighing?: number }[];

/** Ingamells' sampling constant, g, with the range that holds it with 8 chances in 10, and what it rests on. */
export interface SamplingConstant {
  constantG: number;
  lowG: number;
  highG: number;
  degreesOfFreedom: number;
  /** The part of the constant that weighing explains, g. */
  weighingG: number;
  /** Mass of the repeats on the mean, g. */
  repeatMassG: number;
}

/**
 * Ingamells' sampling constant from repeat samples of about one mass: K = m̄·R², R the relative standard deviation in
 * percent, so that K is the mass that holds the sampling error to 1 %. C. O. Ingamells, P. Switzer, Talanta 20 (1973),
 * 547. Several groups of repeats of one lot are pooled by their degrees of freedom, K = Σ(n − 1)·m̄·R²/Σ(n − 1); the
 * range is that of a variance, νK/χ²(0.9; ν) to νK/χ²(0.1; ν). The scatter of the smelt and of the weighing is in R
 * too, so K comes out rather high. Groups of one, or with a mean that is not above zero, add nothing; null with none
 * left.
 */
export function ingamellsConstant(groups: readonly RepeatSamples[]): SamplingConstant | null {
  let degreesOfFreedom = 0;
  let sum = 0;
  let weighing = 0;
  let masses = 0;
  for (const samples of groups) {
    const values = samples.map(({ value }) => value);
    const centre = mean(values);
    if (samples.length < 2 || !(centre > 0)) continue;
    const percent = (100 * standardDeviation(values)) / centre;
    const spares = samples.length - 1;
    const massG = mean(samples.map((one) => one.massG));
    degreesOfFreedom += spares;
    sum += spares * massG * percent ** 2;
    weighing += spares * massG * mean(samples.map(({ uWeighing = 0 }) => ((100 * uWeighing) / centre) ** 2));
    masses += spares * massG;
  }
  if (degreesOfFreedom === 0) return null;
  const bound = (probability: number): number => sum / chiSquareQuantile({ probability, degreesOfFreedom });
  return {
    constantG: sum / degreesOfFreedom,
    lowG: bound(0.9),
    highG: bound(0.1),
    degreesOfFreedom,
    weighingG: weighing / degreesOfFreedom,
    repeatMassG: masses / degreesOfFreedom,
  };
}

/**
 * Sample mass, g, that holds the error of one test, weighing and all, to a relative standard deviation s (a fraction).
 * What weighing does not explain of the constant K falls with the mass, weighing with its square, since a larger
 * sample gives a larger bead: s² = (K − K_w)/(10⁴·m) + K_w·m̄/(10⁴·m²), K_w and m̄ weighing's part and the mass of the
 * repeats; solved for m. Repeats that agree better than weighing allows leave weighing alone.
 */
export function testMassForErrorG({
  constantG,
  weighingG,
  repeatMassG,
  relativeSd,
}: Pick<SamplingConstant, 'constantG' | 'weighingG' | 'repeatMassG'> & { relativeSd: number }): number {
  const once = Math.max(0, constantG - weighingG) / 1e4;
  const twice = (weighingG * repeatMassG) / 1e4;
  const variance = relativeSd ** 2;
  return (once + Math.sqrt(once ** 2 + 4 * variance * twice)) / (2 * variance);
}
