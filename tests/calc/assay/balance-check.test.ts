import { describe, expect, it } from 'vitest';
import { balanceRepeatability, checkBalance } from '../../../api/calc/assay/balance-check.ts';

describe('repeatability from repeated weighings', () => {
  // JCGM 100:2008, Table E.1: relative uncertainty of the standard deviation of n readings.
  it.each([
    [2, 76],
    [3, 52],
    [4, 42],
    [5, 36],
    [10, 24],
    [20, 16],
    [30, 13],
    [50, 10],
  ])('knows the repeatability from %s readings to %s %%', (n, printedPercent) => {
    const readingsG = Array.from({ length: n }, (_, i) => 20 + 0.001 * (i % 3));
    const worked = balanceRepeatability({ readingsG, readabilityG: 0.001 });
    expect(Math.round(100 * (worked?.relativeUncertainty ?? 0))).toBe(printedPercent);
    expect(worked?.findings.map(({ code }) => code)).toEqual(n < 10 ? ['few-repeat-readings'] : []);
  });

  it('is the standard deviation of the readings', () => {
    const worked = balanceRepeatability({ readingsG: [10.01, 10.03, 10.02], readabilityG: 0.01 });
    expect(worked?.repeatabilityG).toBeCloseTo(0.01, 12);
  });

  it('says when the step of the display hides it, and is null for one reading', () => {
    const alike = balanceRepeatability({
      readingsG: Array.from({ length: 12 }, () => 5),
      readabilityG: 0.01,
    });
    expect(alike?.repeatabilityG).toBe(0);
    expect(alike?.findings.map(({ code }) => code)).toEqual(['readings-all-equal']);
    expect(balanceRepeatability({ readingsG: [5], readabilityG: 0.01 })).toBeNull();
  });
});

describe('a balance against check weights', () => {
  const checksOf = (readings: [number, number][]) =>
    readings.map(([nominalMassG, readingG]) => ({ nominalMassG, readingG }));

  it('says where it reads wrong, by how much', () => {
    const { findings, errorLine } = checkBalance({
      checks: checksOf([
        [10, 10.1],
        [20, 20.2],
        [50, 50.5],
        [100, 101],
      ]),
      readabilityG: 0.1,
    });
    expect(errorLine?.slope.value).toBeCloseTo(0.01, 10);
    expect(findings.map(({ path }) => path)).toContain('/checks/3');
    expect(findings.at(-1)?.sentence).toContain('reads 1 g too much (1 %)');
  });

  it('is content with errors below its own step', () => {
    const { findings } = checkBalance({
      checks: checksOf([
        [10, 10],
        [20, 20.01],
        [50, 50],
        [100, 100.01],
      ]),
      readabilityG: 0.01,
    });
    expect(findings).toEqual([]);
    // Half a step off everywhere: known without doubt, but less than the display shows.
    const halfAStep = checkBalance({
      checks: checksOf([
        [9.995, 10],
        [19.995, 20],
        [49.995, 50],
      ]),
      readabilityG: 0.01,
    });
    expect(halfAStep.errorLine?.intercept.value).toBeCloseTo(0.005, 10);
    expect(halfAStep.findings).toEqual([]);
  });

  it('wants three check weights', () => {
    const { errorLine, findings } = checkBalance({
      checks: checksOf([
        [10, 10],
        [20, 20],
      ]),
      readabilityG: 0.01,
    });
    expect(errorLine).toBeNull();
    expect(findings.map(({ code }) => code)).toEqual(['few-check-weights']);
  });
});
