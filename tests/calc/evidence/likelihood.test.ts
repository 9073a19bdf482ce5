import { describe, expect, it } from 'vitest';
import { addLogLikelihood } from '../../../api/calc/evidence/likelihood.ts';
import { normalDensity } from '../../../api/calc/statistics/normal.ts';

/** ln density of one observation, for one expected grade. */
function logDensity(observed: { value: number; u: number }, expectedGpt: number, relativeSd: number): number {
  const result = new Float64Array(1);
  addLogLikelihood(result, [observed], { firstLog: Math.log(expectedGpt), step: 1 }, relativeSd);
  return result[0]! - 0.5 * Math.log(2 * Math.PI);
}

/** Density of expected grade × lognormal factor of mean 1 + normal error, by adding up over the factor. */
function byConvolution({ value, u }: { value: number; u: number }, expectedGpt: number, sd: number): number {
  let sum = 0;
  const step = 0.002;
  for (let z = -8; z <= 8; z += step) {
    const mean = expectedGpt * Math.exp(sd * z - 0.5 * sd * sd);
    sum += step * normalDensity(z) * (normalDensity((value - mean) / u) / u);
  }
  return Math.log(sum);
}

describe('the density of an observation', () => {
  it('is normal where only the weighing errs', () => {
    for (const value of [98, 100, 103]) {
      expect(logDensity({ value, u: 1.5 }, 100, 0)).toBeCloseTo(
        Math.log(normalDensity((value - 100) / 1.5) / 1.5),
        3,
      );
    }
  });

  it('is lognormal of mean 1 where only the samples differ', () => {
    const sd = 0.2;
    for (const value of [70, 100, 140]) {
      const z = (Math.log(value / 100) + 0.5 * sd * sd) / sd;
      expect(logDensity({ value, u: 0.001 }, 100, sd)).toBeCloseTo(
        Math.log(normalDensity(z) / (value * sd)),
        6,
      );
    }
  });

  it('comes close to the exact density where both count', () => {
    for (const [value, u, expected, sd] of [
      [95, 4, 100, 0.05],
      [110, 4, 100, 0.05],
      [6, 2, 5, 0.2],
      [60, 3, 50, 0.15],
    ] as const) {
      expect(
        Math.abs(logDensity({ value, u }, expected, sd) - byConvolution({ value, u }, expected, sd)),
      ).toBeLessThan(0.12);
    }
  });

  it('integrates to one over the observation', () => {
    for (const [expected, u, sd] of [
      [50, 2, 0.1],
      [1, 2, 0.3],
      [300, 1, 0.02],
    ] as const) {
      let sum = 0;
      for (let value = -12 * u; value < 4 * expected + 12 * u; value += u / 50)
        sum += (u / 50) * Math.exp(logDensity({ value, u }, expected, sd));
      expect(sum).toBeCloseTo(1, 3);
    }
  });
});
