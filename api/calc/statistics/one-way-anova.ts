import { fisherFUpperTail } from './fisher-f.ts';

/** A group of results by its summary; with one result the standard deviation is null. */
export interface GroupSummary {
  n: number;
  mean: number;
  standardDeviation: number | null;
}

/** Spread inside groups, pooled: s² = Σ(nᵢ − 1)sᵢ²/Σ(nᵢ − 1). Null where no group has two results. */
export function pooledSpread(
  groups: readonly GroupSummary[],
): { standardDeviation: number; degreesOfFreedom: number; sumOfSquares: number } | null {
  const degreesOfFreedom = groups.reduce((total, { n }) => total + n - 1, 0);
  if (degreesOfFreedom < 1) return null;
  const sumOfSquares = groups.reduce(
    (total, { n, standardDeviation }) => total + (n - 1) * (standardDeviation ?? 0) ** 2,
    0,
  );
  return { standardDeviation: Math.sqrt(sumOfSquares / degreesOfFreedom), degreesOfFreedom, sumOfSquares };
}

export interface OneWayAnova {
  betweenSumOfSquares: number;
  withinSumOfSquares: number;
  numeratorDf: number;
  denominatorDf: number;
  residualStandardDeviation: number;
  rSquared: number;
  f: number;
  p: number;
}

/**
 * One-way analysis of variance (R. A. Fisher): does the spread between groups exceed what the spread inside them
 * makes? Null with fewer than two groups, or without replicates or any spread among them.
 */
export function oneWayAnova(groups: readonly GroupSummary[]): OneWayAnova | null {
  const within = pooledSpread(groups);
  if (groups.length < 2 || within === null || within.sumOfSquares === 0) return null;
  const total = groups.reduce((sum, { n }) => sum + n, 0);
  const grandMean = groups.reduce((sum, { n, mean }) => sum + (n / total) * mean, 0);
  const betweenSumOfSquares = groups.reduce((sum, { n, mean }) => sum + n * (mean - grandMean) ** 2, 0);
  const numeratorDf = groups.length - 1;
  const denominatorDf = within.degreesOfFreedom;
  const f = betweenSumOfSquares / numeratorDf / (within.sumOfSquares / denominatorDf);
  return {
    betweenSumOfSquares,
    withinSumOfSquares: within.sumOfSquares,
    numeratorDf,
    denominatorDf,
    residualStandardDeviation: within.standardDeviation,
    rSquared: betweenSumOfSquares / (betweenSumOfSquares + within.sumOfSquares),
    f,
    p: fisherFUpperTail({ f, numeratorDf, denominatorDf }),
  };
}
