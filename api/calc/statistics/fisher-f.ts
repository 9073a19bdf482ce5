import { incompleteBeta } from './beta.ts';
import { findPositiveRoot } from './root.ts';

interface FDegreesOfFreedom {
  /** Degrees of freedom above the line, > 0. */
  numeratorDf: number;
  /** Degrees of freedom below the line, > 0. */
  denominatorDf: number;
}

function tails(
  f: number,
  { numeratorDf, denominatorDf }: FDegreesOfFreedom,
): { lower: number; upper: number } {
  const above = numeratorDf * Math.max(f, 0);
  const whole = above + denominatorDf;
  if (whole === Number.POSITIVE_INFINITY) return { lower: 1, upper: 0 };
  return incompleteBeta({
    x: above / whole,
    oneMinusX: denominatorDf / whole,
    a: numeratorDf / 2,
    b: denominatorDf / 2,
  });
}

/** Probability that Fisher's F (ratio of two mean squares) lies below f (0 for f < 0). */
export function fisherFCdf({ f, ...degrees }: { f: number } & FDegreesOfFreedom): number {
  return tails(f, degrees).lower;
}

/** Probability that Fisher's F lies above f: the p of an analysis of variance. */
export function fisherFUpperTail({ f, ...degrees }: { f: number } & FDegreesOfFreedom): number {
  return tails(f, degrees).upper;
}

/** Quantile of Fisher's F: the f below which a share `probability` lies; 0 and ∞ at the ends, NaN outside. */
export function fisherFQuantile({
  probability,
  ...degrees
}: { probability: number } & FDegreesOfFreedom): number {
  const { numeratorDf, denominatorDf } = degrees;
  if (!(numeratorDf > 0) || !(denominatorDf > 0) || !(probability >= 0 && probability <= 1))
    return Number.NaN;
  if (probability === 0) return 0;
  if (probability === 1) return Number.POSITIVE_INFINITY;
  const excess =
    probability < 0.5
      ? (f: number) => tails(f, degrees).lower - probability
      : (f: number) => 1 - probability - tails(f, degrees).upper;
  return findPositiveRoot(excess, 1);
}
