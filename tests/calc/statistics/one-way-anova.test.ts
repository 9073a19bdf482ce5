import { describe, expect, it } from 'vitest';
import { effectiveDegreesOfFreedom } from '../../../api/calc/statistics/effective-degrees-of-freedom.ts';
import { oneWayAnova, pooledSpread } from '../../../api/calc/statistics/one-way-anova.ts';
import { mean, standardDeviation } from '../../../api/calc/statistics/sample.ts';
import { studentTQuantile, studentTTwoSidedP } from '../../../api/calc/statistics/student-t.ts';
import { michelson, silverByInstrument, simonLesage } from './nist-data.ts';

const summaryOf = (values: readonly number[]) => ({
  n: values.length,
  mean: mean(values),
  standardDeviation: standardDeviation(values),
});

describe('analysis of variance', () => {
  // NIST Statistical Reference Datasets, one-way ANOVA, AtmWtAg (average difficulty): certified between-instrument sum
  // of squares 3.63834187500000e-9, within 1.04951729166667e-8, F 15.9467335677930, R² 0.257426544538321, residual
  // standard deviation 1.51048314446410e-5. The data carry seven constant leading figures, so a double keeps some
  // nine of the certified ones.
  it('agrees with NIST on the atomic weight of silver', () => {
    const anova = oneWayAnova(silverByInstrument.map(summaryOf));
    if (anova === null) throw new Error('two groups of 24');
    expect(anova.betweenSumOfSquares / 3.638341875e-9).toBeCloseTo(1, 7);
    expect(anova.withinSumOfSquares / 1.04951729166667e-8).toBeCloseTo(1, 7);
    expect(anova.f).toBeCloseTo(15.946733567793, 5);
    expect(anova.rSquared).toBeCloseTo(0.257426544538321, 7);
    expect(anova.residualStandardDeviation / 1.5104831444641e-5).toBeCloseTo(1, 7);
    expect([anova.numeratorDf, anova.denominatorDf]).toEqual([1, 46]);
  });

  // NIST Statistical Reference Datasets, one-way ANOVA, SmLs01 (lower difficulty), SmLs04 (average), SmLs07 (higher):
  // certified F 21, R² 0.482758620689655, sums of squares 1.68 and 1.80, residual standard deviation 0.1. With thirteen
  // constant leading figures a double leaves the data of SmLs07 themselves only three: F of those doubles is 21.0.
  it.each([
    ['1', 10],
    ['1000000', 6],
    ['1000000000000', 1],
  ])('agrees with NIST on SmLs01, SmLs04 and SmLs07, above %s', (wholePart, decimals) => {
    const anova = oneWayAnova(simonLesage(wholePart).map(summaryOf))!;
    expect(anova.f).toBeCloseTo(21, decimals);
    expect(anova.betweenSumOfSquares).toBeCloseTo(1.68, decimals);
    expect(anova.withinSumOfSquares).toBeCloseTo(1.8, decimals);
    expect(anova.rSquared).toBeCloseTo(0.482758620689655, decimals);
    expect(anova.residualStandardDeviation).toBeCloseTo(0.1, decimals);
    expect([anova.numeratorDf, anova.denominatorDf]).toEqual([8, 180]);
  });

  it('has nothing to say of one group, of single results, or of results all alike', () => {
    const single = { n: 1, mean: 3, standardDeviation: null };
    expect(oneWayAnova([{ n: 3, mean: 1, standardDeviation: 1 }])).toBeNull();
    expect(oneWayAnova([single, single])).toBeNull();
    expect(pooledSpread([single])).toBeNull();
    expect(oneWayAnova([single, { n: 2, mean: 1, standardDeviation: 0 }])).toBeNull();
  });
});

describe('published univariate cases', () => {
  // NIST Statistical Reference Datasets, univariate, Michelso: mean 299.852400000000, s 0.0790105478190518.
  it('agrees with NIST on Michelson’s speed of light', () => {
    expect(mean(michelson)).toBeCloseTo(299.8524, 12);
    expect(standardDeviation(michelson)).toBeCloseTo(0.0790105478190518, 12);
  });

  // R: t.test(extra ~ group, paired = TRUE) on Student's sleep data: t −4.0621, df 9, p 0.002833. R. A. Fisher, The
  // Design of Experiments (1935), s. 17: Darwin's maize, t 2.148, two-sided p 0.0497.
  it('agrees with R and with Fisher on paired differences', () => {
    const pairedT = (differences: number[]) =>
      mean(differences) / (standardDeviation(differences) / Math.sqrt(differences.length));
    const sleep = pairedT([-1.2, -2.4, -1.3, -1.3, 0, -1, -1.8, -0.8, -4.6, -1.4]);
    expect(sleep).toBeCloseTo(-4.0621, 4);
    expect(studentTTwoSidedP({ t: sleep, degreesOfFreedom: 9 })).toBeCloseTo(0.002833, 6);
    const maize = pairedT([49, -67, 8, 16, 6, 23, 28, 41, 14, 29, 56, 24, 75, 60, -48]);
    expect(maize).toBeCloseTo(2.14799, 5);
    expect(studentTTwoSidedP({ t: maize, degreesOfFreedom: 14 })).toBeCloseTo(0.0497, 5);
  });
});

describe('effective degrees of freedom', () => {
  // JCGM 100:2008, H.1.6: parts of 25 nm (ν 18), 9.7 nm (ν 25.6), 2.9 nm (ν 50) and 16.6 nm (ν 2): ν_eff 16.7, taken
  // as 16; t for 99 % is 2.92, and U 93 nm.
  it('works the end gauge of GUM H.1', () => {
    const parts = [
      [25, 18],
      [9.7, 25.6],
      [2.9, 50],
      [16.6, 2],
    ].map(([u = 0, degreesOfFreedom = 0]) => ({ variance: u * u, degreesOfFreedom }));
    const degreesOfFreedom = Math.floor(effectiveDegreesOfFreedom(parts));
    expect(degreesOfFreedom).toBe(16);
    const u = Math.sqrt(parts.reduce((total, { variance }) => total + variance, 0));
    expect(u).toBeCloseTo(32, 0);
    const t = studentTQuantile({ probability: 0.995, degreesOfFreedom });
    expect(t).toBeCloseTo(2.92, 2);
    expect(t * 32).toBeCloseTo(93, 0);
  });

  it('is without limit where every part is known', () => {
    expect(effectiveDegreesOfFreedom([{ variance: 4, degreesOfFreedom: Number.POSITIVE_INFINITY }])).toBe(
      Number.POSITIVE_INFINITY,
    );
  });
});
