import { describe, expect, it } from 'vitest';
import { mean, standardDeviation, sumOfSquaredDeviations } from '../../../api/calc/statistics/sample.ts';
import { numAcc } from './nist-data.ts';

describe('mean and standard deviation', () => {
  // NIST Statistical Reference Datasets, univariate summary statistics, NumAcc1: mean and s certified exact.
  it('keeps the figures of NIST NumAcc1', () => {
    const values = [10000001, 10000003, 10000002];
    expect(mean(values)).toBe(10000002);
    expect(standardDeviation(values)).toBe(1);
  });

  // NIST Statistical Reference Datasets, univariate, NumAcc2 (lower difficulty), NumAcc3 (average) and NumAcc4 (higher):
  // mean 1.2, 1000000.2 and 10000000.2, s 0.1, certified exact. A double holds 0.1 above ten million to nine figures.
  it.each([
    ['1', 1.2, 13],
    ['1000000', 1000000.2, 10],
    ['10000000', 10000000.2, 8],
  ])('keeps the figures of NIST NumAcc2 to NumAcc4 above %s', (wholePart, certified, decimals) => {
    const values = numAcc(wholePart);
    expect(Math.abs(mean(values) / certified - 1)).toBeLessThan(1e-15);
    expect(standardDeviation(values)).toBeCloseTo(0.1, decimals);
  });

  // JCGM 100:2008, Table 1 and 4.4.3: twenty readings of a temperature, mean 100.145 °C (printed 100.14),
  // s 1.489 (1.49), s/√20 0.333 (0.33). The readings are those of the table.
  it('works the twenty temperatures of GUM Table 1', () => {
    const values = [
      96.9, 98.18, 98.25, 98.61, 99.03, 99.49, 99.56, 99.74, 99.89, 100.07, 100.33, 100.42, 100.68, 100.95,
      101.11, 101.2, 101.57, 101.84, 102.36, 102.72,
    ];
    expect(mean(values)).toBeCloseTo(100.145, 3);
    expect(standardDeviation(values)).toBeCloseTo(1.489, 3);
    expect(standardDeviation(values) / Math.sqrt(20)).toBeCloseTo(0.333, 3);
  });

  // R. A. Fisher, The Design of Experiments (1935), s. 17: Darwin's maize, fifteen differences of height in
  // eighths of an inch, mean 20.933, s 37.74.
  it('works Darwin’s maize', () => {
    const differences = [49, -67, 8, 16, 6, 23, 28, 41, 14, 29, 56, 24, 75, 60, -48];
    expect(mean(differences)).toBeCloseTo(20.9333, 4);
    expect(standardDeviation(differences)).toBeCloseTo(37.7444, 4);
    expect(sumOfSquaredDeviations(differences)).toBeCloseTo(14 * 37.7444 ** 2, 0);
  });

  it('says nothing about the spread of one value, nor the mean of none', () => {
    expect(standardDeviation([4])).toBeNaN();
    expect(mean([])).toBeNaN();
  });
});
