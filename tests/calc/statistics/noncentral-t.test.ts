import { describe, expect, it } from 'vitest';
import { twoSidedTTestPower } from '../../../api/calc/statistics/noncentral-t.ts';
import { studentTQuantile } from '../../../api/calc/statistics/student-t.ts';

/** Power of a two-sided 5 % test of two groups of n whose means differ by `difference` standard deviations. */
function powerOfTwoGroups(n: number, difference: number): number {
  const degreesOfFreedom = 2 * (n - 1);
  return twoSidedTTestPower({
    criticalT: studentTQuantile({ probability: 0.975, degreesOfFreedom }),
    degreesOfFreedom,
    noncentrality: difference * Math.sqrt(n / 2),
  });
}

describe('power of a two-sided t test', () => {
  // R's power.t.test (package stats, a general-purpose program): n = 22.02110 for delta 1, power 0.90;
  // n = 63.76576 for delta 0.5, power 0.80; power 0.463 for n = 3, delta 2.
  it('agrees with R', () => {
    expect(powerOfTwoGroups(22.0211, 1)).toBeCloseTo(0.9, 5);
    expect(powerOfTwoGroups(63.76576, 0.5)).toBeCloseTo(0.8, 5);
    expect(powerOfTwoGroups(3, 2)).toBeCloseTo(0.463, 3);
  });

  it('is the level of the test where there is no difference, and certainty where it is huge', () => {
    expect(powerOfTwoGroups(5, 0)).toBeCloseTo(0.05, 12);
    expect(powerOfTwoGroups(5, 1000)).toBeCloseTo(1, 12);
  });

  it('does not mind the sign of the difference', () => {
    expect(powerOfTwoGroups(4, -1.3)).toBe(powerOfTwoGroups(4, 1.3));
  });
});
