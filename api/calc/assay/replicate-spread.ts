import { pooledSpread } from '../statistics/one-way-anova.ts';
import type { AssayedMetal, TrialResult } from './trial.ts';

/** Relative standard deviation of replicate tests, pooled over trials, with what it rests on. */
export interface PooledReplicateSpread {
  value: number;
  degreesOfFreedom: number;
}

/**
 * Pools the relative replicate spread of several trials: r² = Σ(nᵢ − 1)rᵢ²/Σ(nᵢ − 1), the residual mean
 * square of a one-way analysis of variance of results divided by their trial's mean. Trials with one test
 * add nothing; null if none has two.
 */
export function poolReplicateSpread({
  trials,
  metal,
}: {
  trials: readonly TrialResult[];
  metal: AssayedMetal;
}): PooledReplicateSpread | null {
  const groups = trials.flatMap((trial) => {
    const worked = trial[metal];
    if (worked === null || worked.relativeSd === null) return [];
    return [{ n: worked.n, mean: 1, standardDeviation: worked.relativeSd }];
  });
  const pooled = pooledSpread(groups);
  return pooled && { value: pooled.standardDeviation, degreesOfFreedom: pooled.degreesOfFreedom };
}
