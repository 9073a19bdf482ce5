import { describe, expect, it } from 'vitest';
import { grubbsTest } from '../../../api/calc/statistics/grubbs.ts';
import { mean, standardDeviation } from '../../../api/calc/statistics/sample.ts';

describe('Grubbs’ test', () => {
  // NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.17.1: eight mass-spectrometer readings on a uranium
  // isotope (Tietjen and Moore 1972), G = 2.4687 (cut, not rounded) for 245.57; upper one-tailed 5 % critical value 2.032.
  it('finds the outlier of the uranium readings', () => {
    const found = grubbsTest([199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57]);
    expect(found?.index).toBe(7);
    expect(found?.g).toBeCloseTo(2.4687, 3);
    expect(found?.p).toBeLessThan(0.001);
  });

  // J. S. Harvey, Analytical Chemistry 2.1, Appendix 7 (critical values for Grubbs' test, α = 0.05). The entry for
  // n = 7, printed 2.202, is left out: every other table has 2.020.
  it.each([
    [4, 1.481],
    [5, 1.715],
    [6, 1.887],
    [8, 2.126],
    [9, 2.215],
    [10, 2.29],
    [12, 2.412],
    [14, 2.507],
  ])('has p = 0.05 at the tabulated value for n = %s', (n, critical) => {
    expect(grubbsTest(valuesWithOneOff(n, critical - 0.0015))?.p).toBeGreaterThan(0.05);
    expect(grubbsTest(valuesWithOneOff(n, critical + 0.0015))?.p).toBeLessThan(0.05);
  });

  it('has nothing to say of two values, or of equal ones', () => {
    expect(grubbsTest([1, 2])).toBeNull();
    expect(grubbsTest([3, 3, 3, 3])).toBeNull();
  });

  it('is certain where all but one agree exactly', () => {
    expect(grubbsTest([5, 5, 5, 9])?.index).toBe(3);
    expect(grubbsTest([5, 5, 5, 9])?.p).toBeCloseTo(0, 6);
  });
});

/** n values of which the first lies exactly g standard deviations above the mean. */
function valuesWithOneOff(n: number, g: number): number[] {
  const others = Array.from({ length: n - 1 }, (_, i) => i - (n - 2) / 2);
  let low = 0;
  let high = 1000;
  for (let i = 0; i < 100; i++) {
    const first = (low + high) / 2;
    const values = [first, ...others];
    if ((first - mean(values)) / standardDeviation(values) < g) low = first;
    else high = first;
  }
  return [low, ...others];
}
