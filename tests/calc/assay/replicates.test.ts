import { describe, expect, it } from 'vitest';
import { compareManyTrials } from '../../../api/calc/assay/compare-many-trials.ts';
import { replicatesForHalfWidth } from '../../../api/calc/assay/replicates-needed.ts';
import { trialWithGold } from './trial-of.ts';

describe('how many replicates', () => {
  // J. S. Harvey, Modern Analytical Chemistry (2000), example 7.8: s 2.0 %, wanted ± 0.80 % at 95 %: 24 tests with
  // z = 1.96, then 27 with t.
  it('works Harvey’s example', () => {
    expect(Math.round((1.96 * 2) ** 2 / 0.8 ** 2)).toBe(24);
    expect(replicatesForHalfWidth({ standardDeviation: 2, halfWidth: 0.8 })).toBe(27);
  });

  // JCGM 100:2008, Table G.2: t for 95 % is 4.30 with 2 degrees of freedom and 3.18 with 3, so that t/√n is 2.48 for
  // three tests and 1.59 for four.
  it('takes the degrees of freedom of so few tests', () => {
    expect(replicatesForHalfWidth({ standardDeviation: 1, halfWidth: 1.9 })).toBe(4);
    expect(replicatesForHalfWidth({ standardDeviation: 1, halfWidth: 2.49 })).toBe(3);
  });

  it('is at least two, and none where no number of tests would do', () => {
    expect(replicatesForHalfWidth({ standardDeviation: 0.001, halfWidth: 50 })).toBe(2);
    expect(replicatesForHalfWidth({ standardDeviation: 10, halfWidth: 0.01 })).toBeNull();
    expect(replicatesForHalfWidth({ standardDeviation: 10, halfWidth: 0 })).toBeNull();
  });
});

describe('several trials at once', () => {
  it('says whether they differ at all', () => {
    const alike = compareManyTrials({
      trials: [trialWithGold([99, 101], 0.1), trialWithGold([98, 102], 0.1), trialWithGold([100], 0.1)],
      metal: 'gold',
    });
    expect(alike?.verdict).toBe('not proven');
    expect(alike?.p).toBeCloseTo(1, 6);
    const different = compareManyTrials({
      trials: [trialWithGold([99, 101], 0.1), trialWithGold([198, 202], 0.1), trialWithGold([150], 0.1)],
      metal: 'gold',
    });
    expect(different?.verdict).toBe('they differ');
    expect(different?.sentence).toMatch(/^The 3 trials differ in gold/);
  });

  it('has nothing to say without replicates or a second trial', () => {
    expect(
      compareManyTrials({ trials: [trialWithGold([5], 1), trialWithGold([6], 1)], metal: 'gold' }),
    ).toBeNull();
    expect(compareManyTrials({ trials: [trialWithGold([5, 6], 1)], metal: 'gold' })).toBeNull();
  });
});
