import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { methodInWords } from '../../../api/calc/assay/comparison-sentence.ts';
import { compareTrials } from '../../../api/calc/assay/compare-trials.ts';
import type { TrialMetal, TrialResult } from '../../../api/calc/assay/trial.ts';
import { trialWithGold } from './trial-of.ts';

/** A trial known only by its summary. */
function trialOf(n: number, mean: number, sd: number): TrialResult {
  const gold: TrialMetal = {
    n,
    meanGpt: { value: mean, u: sd / Math.sqrt(n) },
    standardDeviationGpt: sd,
    standardErrorGpt: sd / Math.sqrt(n),
    relativeSd: sd / mean,
    uWeighingGpt: 0,
    uWeighingAndSamplingGpt: 0,
    uSharedGpt: 0,
    spreadTest: null,
    furthestOff: null,
  };
  return { gold, silver: null, goldPlusSilver: null };
}

function compare(
  a: TrialResult,
  b: TrialResult,
  pooled: { value: number; degreesOfFreedom: number } | null = null,
) {
  const comparison = compareTrials({ a, b, metal: 'gold', pooledReplicateRelativeSd: pooled });
  if (comparison === null) throw new Error('both trials have gold');
  return comparison;
}

describe('comparing two trials with replicates', () => {
  // Student's sleep data ("The probable error of a mean", Biometrika 6, 1908; data set `sleep` of R):
  // t.test(extra ~ group): t = −1.8608, df = 17.776, p = 0.07939, 95 % −3.3654832 to 0.2054832. All raised by 10,
  // which no difference minds.
  it('agrees with R on Student’s sleep data', () => {
    const first = [0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0, 2].map((x) => x + 10);
    const second = [1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4].map((x) => x + 10);
    const comparison = compare(trialWithGold(first, 1e-6), trialWithGold(second, 1e-6));
    const { differenceGpt, interval95Gpt } = comparison;
    expect(comparison.method).toBe('replicates of both: Welch');
    expect(differenceGpt.value / differenceGpt.u).toBeCloseTo(1.8608, 4);
    expect(comparison.degreesOfFreedom).toBeCloseTo(17.776, 3);
    expect(2 * (1 - (comparison.probabilityBBetter ?? 0))).toBeCloseTo(0.07939, 5);
    expect(interval95Gpt?.low).toBeCloseTo(-0.2054832, 6);
    expect(interval95Gpt?.high).toBeCloseTo(3.3654832, 6);
    expect(comparison.verdict).toBe('not proven');
  });

  // Welch's t from summaries (n 4 and 8, means 25 and 21, s 0.8185 and 4.208), recomputed with scipy 1.17
  // ttest_ind_from_stats: t = 2.592328, p = 0.0320213; printed with df 7.9925, 95 % 0.4410 to 7.5590 (from
  // figures with more digits than the summary keeps).
  it('agrees with scipy on Welch’s t from summaries', () => {
    const comparison = compare(trialOf(8, 21, 4.208), trialOf(4, 25, 0.8185));
    expect(comparison.differenceGpt.value / comparison.differenceGpt.u).toBeCloseTo(2.592328, 6);
    expect(comparison.degreesOfFreedom).toBeCloseTo(7.9925, 3);
    expect(2 * (1 - (comparison.probabilityBBetter ?? 0))).toBeCloseTo(0.0320213257, 9);
    expect(comparison.interval95Gpt?.low).toBeCloseTo(0.441, 3);
    expect(comparison.interval95Gpt?.high).toBeCloseTo(7.559, 3);
    expect(comparison.verdict).toBe('b better');
    expect(comparison.furtherReplicatesOfEach).toBe(0);
  });

  // R's power.t.test(delta = 1, sd = 1, power = 0.9): n = 22.02110, so 23 of each; with 5 of each in hand, 18 more.
  it('asks for as many further tests as R’s power.t.test', () => {
    const comparison = compare(trialOf(5, 1000, 1), trialOf(5, 1001, 1));
    expect(comparison.verdict).toBe('not proven');
    expect(comparison.furtherReplicatesOfEach).toBe(18);
    expect(comparison.sentence).toContain('18 more of each');
  });

  it('gives up asking where the difference is hopelessly small', () => {
    const comparison = compare(trialOf(5, 1000, 10), trialOf(5, 1000.1, 10));
    expect(comparison.furtherReplicatesOfEach).toBeNull();
    expect(comparison.sentence).toContain('hardly settle');
  });

  it('does not prove by a lucky agreement what the scales cannot see', () => {
    const comparison = compare(trialWithGold([100, 100], 5), trialWithGold([104, 104], 5));
    expect(comparison.differenceGpt.u).toBeCloseTo(5, 9);
    expect(comparison.verdict).toBe('not proven');
  });
});

describe('comparing trials of one test each', () => {
  it('never proves anything by weighing alone', () => {
    const comparison = compare(trialWithGold([10], 0.001), trialWithGold([500], 0.001));
    expect(comparison.method).toBe('one test each: weighing and sampling error only');
    expect(comparison.verdict).toBe('not proven');
    expect(comparison.sentence).toMatch(/^Not proven: B gave 490 g\/t more gold than A/);
    expect([
      comparison.interval95Gpt,
      comparison.probabilityBBetter,
      comparison.furtherReplicatesOfEach,
    ]).toEqual([null, null, null]);
  });

  it('leans on the spread of the mill’s other trials where there is one', () => {
    const pooled = { value: 0.05, degreesOfFreedom: 12 };
    const near = compare(trialWithGold([100], 0.1), trialWithGold([108], 0.1), pooled);
    expect(near.method).toBe("replicate spread pooled with the mill's other trials");
    expect(near.verdict).toBe('not proven');
    expect(near.differenceGpt.u).toBeCloseTo(0.05 * Math.hypot(100, 108), 6);
    expect(near.degreesOfFreedom).toBeCloseTo(12, 10);
    const far = compare(trialWithGold([140], 0.1), trialWithGold([100], 0.1), pooled);
    expect(far.verdict).toBe('a better');
    expect(far.sentence).toMatch(/^Proven: A gave 40 g\/t more gold than B/);
  });

  it('borrows the spread of the trial that has replicates, and says so', () => {
    const comparison = compare(trialWithGold([98, 100, 102], 0.1), trialWithGold([150], 0.1));
    expect(comparison.method).toBe('replicates of one trial: their spread taken for both');
    expect(comparison.degreesOfFreedom).toBeCloseTo(2, 10);
    expect(comparison.differenceGpt.u).toBeCloseTo(0.02 * Math.hypot(100 / Math.sqrt(3), 150), 8);
    expect(comparison.verdict).toBe('b better');
  });
});

describe('the range of a difference', () => {
  // Welch by hand: means 75.55 and 86.50, s 4.575 and 4.296, n 3 each: 10.95 ± 2.78 × 3.62, so 0.87 to 21.0.
  it('has as many decimals at both ends', () => {
    const raw = trialWithGold([75.48, 71.01, 80.16], 1e-6);
    const roasted = trialWithGold([86, 82.48, 91.03], 1e-6);
    expect(compare(raw, roasted).sentence).toContain('(95 % range 0.9 to 21.0 g/t)');
    expect(compare(roasted, raw).sentence).toContain('(95 % range 0.9 to 21.0 g/t)');
  });

  it('never prints an end as nothing', () => {
    // s 4 and n 3 each: the range is the difference ± 2.776 × 4 × √(2/3) = 9.07, so its low end passes through nothing.
    const low = trialWithGold([86, 90, 94], 1e-6);
    for (const step of [8.9, 9, 9.1, 9.2]) {
      const high = trialWithGold([86 + step, 90 + step, 94 + step], 1e-6);
      expect(compare(low, high).sentence).not.toMatch(/range [−]?0(?:\.0+)? to/);
    }
  });
});

describe('the spread of other trials', () => {
  it('is pooled with the replicates at hand', () => {
    const pooled = { value: 0.02, degreesOfFreedom: 10 };
    const comparison = compare(trialOf(3, 100, 2), trialOf(3, 100, 2), pooled);
    expect(comparison.degreesOfFreedom).toBeCloseTo(14, 10);
    expect(comparison.differenceGpt.u).toBeCloseTo(2 * Math.sqrt(2 / 3), 10);
  });

  // One test of each, 100 and 112 g/t, spread 5 % on 3 degrees of freedom that grow by two with each further pair: by
  // scipy 1.17's noncentral t, 4 further tests of each give a power of 0.901, 3 give 0.811.
  it('gains degrees of freedom with every further test', () => {
    const pooled = { value: 0.05, degreesOfFreedom: 3 };
    const comparison = compare(trialWithGold([100], 0.1), trialWithGold([112], 0.1), pooled);
    expect(comparison.furtherReplicatesOfEach).toBe(4);
  });

  it('is left alone where the replicates at hand contradict it, and that is said', () => {
    const pooled = { value: 0.01, degreesOfFreedom: 20 };
    const comparison = compare(trialOf(4, 100, 10), trialOf(4, 100, 1), pooled);
    expect(comparison.method).toBe('replicates of both: Welch');
    expect(comparison.findings.map(({ code, path }) => [code, path])).toEqual([
      ['replicates-spread-beyond-other-trials', '/a'],
    ]);
  });
});

describe('the words of a comparison', () => {
  it('are in the reader’s unit, and say where a finer balance is what is missing', () => {
    const comparison = compareTrials({
      a: trialWithGold([100, 101, 99.5], 40),
      b: trialWithGold([120, 121, 119], 40),
      metal: 'gold',
      gradeUnit: { name: 'oz/short ton', gpt: 10 },
    });
    expect(comparison?.weighingShareFrac).toBeCloseTo(1, 9);
    expect(comparison?.sentence).toMatch(/^Not proven: B gave 1.98 oz\/short ton more gold than A/);
    expect(comparison?.sentence).toContain('Most of the uncertainty is weighing');
    const byLot = compare(trialWithGold([80, 120, 100], 0.1), trialWithGold([90, 130, 115], 0.1));
    expect(byLot.weighingShareFrac).toBeLessThan(0.01);
    expect(byLot.sentence).not.toContain('weighing');
  });

  it('name the method in plain words', () => {
    const { method } = compare(trialWithGold([80, 120], 0.1), trialWithGold([90, 130], 0.1));
    expect(methodInWords(method)).toContain('Welch');
    expect(methodInWords(compare(trialWithGold([80], 1), trialWithGold([90], 1)).method)).toMatch(
      /^One test/,
    );
  });
});

describe('every comparison', () => {
  const grades = fc.array(fc.double({ min: 10, max: 500, noNaN: true }), { minLength: 1, maxLength: 5 });
  it('says the same whichever trial is named first', () => {
    fc.assert(
      fc.property(grades, grades, (first, second) => {
        const there = compare(trialWithGold(first, 1), trialWithGold(second, 1));
        const back = compare(trialWithGold(second, 1), trialWithGold(first, 1));
        expect(there.differenceGpt.value).toBeCloseTo(-back.differenceGpt.value, 9);
        expect(there.differenceGpt.u).toBeCloseTo(back.differenceGpt.u, 9);
        expect(there.furtherReplicatesOfEach).toBe(back.furtherReplicatesOfEach);
        if (there.probabilityBBetter === null || back.probabilityBBetter === null) {
          expect(there.verdict).toBe('not proven');
          return;
        }
        expect(there.probabilityBBetter + back.probabilityBBetter).toBeCloseTo(1, 9);
        const proven = there.probabilityBBetter > 0.975 || there.probabilityBBetter < 0.025;
        expect(there.verdict !== 'not proven').toBe(proven);
      }),
      { numRuns: 60 },
    );
  });

  it('is null where a trial has not got the metal', () => {
    const trial = trialWithGold([10], 1);
    expect(compareTrials({ a: trial, b: { ...trial, gold: null }, metal: 'gold' })).toBeNull();
  });
});
