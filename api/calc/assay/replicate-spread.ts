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
  let degreesOfFreedom = 0;
  let sumOfSquares = 0;
  for (const trial of trials) {
    const worked = trial[metal];
    if (worked === null || worked.relativeSd === null) continue;
    degreesOfFreedom += worked.n - 1;
    sumOfSquares += (worked.n - 1) * worked.relativeSd ** 2;
  }
  return degreesOfFreedom === 0
    ? null
    : { value: Math.sqrt(sumOfSquares / degreesOfFreedom), degreesOfFreedom };
}
