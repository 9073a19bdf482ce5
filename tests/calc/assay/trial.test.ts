import { describe, expect, it } from 'vitest';
import { replicateFindings } from '../../../api/calc/assay/replicate-findings.ts';
import { poolReplicateSpread } from '../../../api/calc/assay/replicate-spread.ts';
import { workTestSmelt } from '../../../api/calc/assay/test-smelt.ts';
import { workTrial } from '../../../api/calc/assay/trial.ts';
import type { TrialResult } from '../../../api/calc/assay/trial.ts';
import { chiSquareUpperTail } from '../../../api/calc/statistics/chi-square.ts';
import { mean } from '../../../api/calc/statistics/sample.ts';
import { silverByInstrument } from '../statistics/nist-data.ts';
import { smeltOf } from './smelt-of.ts';
import { trialWithGold } from './trial-of.ts';

describe('the replicates of a trial', () => {
  // NIST Statistical Reference Datasets, analysis of variance, AtmWtAg: silver's atomic weight by two instruments;
  // certified residual standard deviation 1.51048314446410e-5. Moved to a common mean of 100 and made larger, as if
  // they were grades of two trials, so that the relative spread is that of the data.
  it('pools the spread of several trials as NIST AtmWtAg has it', () => {
    const trials = silverByInstrument.map((values) =>
      trialWithGold(
        values.map((value) => 100 + 1e4 * (value - mean(values))),
        1e-6,
      ),
    );
    const pooled = poolReplicateSpread({ trials, metal: 'gold' });
    expect(pooled?.degreesOfFreedom).toBe(46);
    expect((pooled?.value ?? 0) / 1.5104831444641e-3).toBeCloseTo(1, 7);
  });

  it('has nothing to pool without replicates', () => {
    expect(poolReplicateSpread({ trials: [trialWithGold([5], 0.1)], metal: 'gold' })).toBeNull();
  });

  it('gives mean, spread and error of the mean', () => {
    const { gold } = trialWithGold([100, 104, 99], 0.1);
    expect(gold?.n).toBe(3);
    expect(gold?.meanGpt.value).toBeCloseTo(101, 10);
    expect(gold?.standardDeviationGpt).toBeCloseTo(Math.sqrt(7), 10);
    expect(gold?.standardErrorGpt).toBeCloseTo(Math.sqrt(7 / 3), 10);
    expect(gold?.meanGpt.u).toBeCloseTo(Math.sqrt(7 / 3), 10);
    expect(gold?.uWeighingGpt).toBeCloseTo(0.1, 10);
    expect(gold?.relativeSd).toBeCloseTo(Math.sqrt(7) / 101, 10);
  });

  it('does not take a lucky agreement for better scales', () => {
    const { gold } = trialWithGold([100, 100, 100], 3);
    expect(gold?.standardDeviationGpt).toBe(0);
    expect(gold?.meanGpt.u).toBeCloseTo(3 / Math.sqrt(3), 10);
  });

  it('has no spread with one test, and nothing at all without', () => {
    const { gold } = trialWithGold([100], 2);
    expect([gold?.standardDeviationGpt, gold?.standardErrorGpt, gold?.spreadTest]).toEqual([
      null,
      null,
      null,
    ]);
    expect(gold?.meanGpt.u).toBeCloseTo(2, 10);
    expect(workTrial([])).toEqual({ gold: null, silver: null, goldPlusSilver: null });
  });

  it('does not average down what the tests share', () => {
    const blankMgPerGLead = { value: 0.02, u: 0.005 };
    const { silver } = workTrial(
      Array.from({ length: 9 }, () => workTestSmelt(smeltOf({ blankMgPerGLead }))),
    );
    expect(silver?.uSharedGpt).toBeCloseTo((1000 * 60 * 0.005) / 100, 8);
    expect(silver?.meanGpt.u ?? 0).toBeGreaterThan(3);
  });

  it('speaks of a spread that weighing does not explain, with its p, and of none that it does', () => {
    const wide = trialWithGold([90, 100, 110], 3);
    // Σ((x − 100)/3)² = 200/9 with 2 degrees of freedom: p = e^(−100/9).
    expect(wide.gold?.spreadTest?.p).toBeCloseTo(Math.exp(-100 / 9), 12);
    const named = (result: TrialResult, name = 'Raw') => ({ name, tests: ['7', '8', '9'], result });
    const [finding, ...more] = replicateFindings([named(wide), named(wide, 'Roasted')]).filter(
      ({ code }) => code === 'replicates-spread-beyond-weighing',
    );
    expect(more).toEqual([]);
    expect(finding?.sentence).toContain('Raw, 10 against 3 g/t of gold');
    expect(finding?.sentence).toContain('Roasted, 10 against 3 g/t of gold');
    // p = e^(−100/9) is far below 0.1 %, beyond which the figures mean nothing.
    expect(finding?.sentence).toContain('Chance alone would do that in less than 0.1 % of such trials. ');
    // Σ((x − 100)/6)² = 200/36 for the second, p = e^(−100/36) = 6.2 %: not spoken of; with 5.5, e^(−100/30.25) = 3.67 %.
    const [two] = replicateFindings([named(wide), named(trialWithGold([90, 100, 110], 5.5), 'Roasted')]);
    expect(two?.sentence).toContain('Chance alone would do that in 3.67 % of such trials at most. ');
    const inOunces = replicateFindings([named(wide)], { name: 'oz/short ton', gpt: 10 });
    expect(inOunces[0]?.sentence).toContain('Raw, 1 against 0.3 oz/short ton of gold');
    const fair = trialWithGold([97, 100, 103], 3);
    expect(fair.gold?.spreadTest?.p).toBeCloseTo(chiSquareUpperTail({ x: 2, degreesOfFreedom: 2 }), 12);
    expect(replicateFindings([named(fair)]).filter(({ sentence }) => sentence.includes('of gold'))).toEqual(
      [],
    );
  });

  it('points at a test out of line by its name, and keeps it', () => {
    const unparted = workTestSmelt(smeltOf({ partedGoldMg: null }));
    const withOneOff = [100, 101, 100.5, 100.2, 150];
    const trial = workTrial([
      unparted,
      ...withOneOff.map((goldMg) => workTestSmelt(smeltOf({ partedGoldMg: goldMg / 10 }))),
    ]);
    expect(trial.gold?.n).toBe(5);
    const tests = ['1', '2', '3', '4', '5', 'black bag'];
    const findings = replicateFindings([{ name: 'Raw', tests, result: trial }]);
    const out = findings.filter(({ code }) => code === 'replicate-out-of-line');
    expect(out.map(({ path }) => path)).toEqual(['/0/5']);
    expect(out[0]?.sentence).toMatch(/^Test black bag of Raw lies far from the others in gold/);
    expect(trial.gold?.meanGpt.value).toBeCloseTo(110.34, 6);
  });
});
