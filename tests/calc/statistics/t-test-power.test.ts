import { describe, expect, it } from 'vitest';
import { twoSidedTTestPower } from '../../../api/calc/statistics/t-test-power.ts';
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

  // scipy 1.17, noncentral t (a general-purpose library): two-sided power at the 95 % critical value.
  it.each([
    [7, 3.2, 0.7831902606849551],
    [30, 8, 0.9999999959725447],
  ])(
    'agrees with scipy at %s degrees of freedom and %s standard errors',
    (degreesOfFreedom, noncentrality, wanted) => {
      const criticalT = studentTQuantile({ probability: 0.975, degreesOfFreedom });
      expect(twoSidedTTestPower({ criticalT, degreesOfFreedom, noncentrality })).toBeCloseTo(wanted, 12);
    },
  );

  it('is the level of the test where there is no difference, and certainty where it is huge', () => {
    expect(powerOfTwoGroups(5, 0)).toBeCloseTo(0.05, 12);
    expect(powerOfTwoGroups(5, 1000)).toBeCloseTo(1, 12);
    expect(twoSidedTTestPower({ criticalT: 2, degreesOfFreedom: 0, noncentrality: 1 })).toBeNaN();
  });

  it('does not mind the sign of the difference', () => {
    expect(powerOfTwoGroups(4, -1.3)).toBe(powerOfTwoGroups(4, 1.3));
  });
});
