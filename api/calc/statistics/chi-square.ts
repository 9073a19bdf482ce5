import { incompleteGamma } from './gamma.ts';
import { findPositiveRoot } from './root.ts';

/** Probability that chi-square with the given degrees of freedom (> 0) lies below x (0 for x < 0). */
export function chiSquareCdf({ x, degreesOfFreedom }: { x: number; degreesOfFreedom: number }): number {
  return incompleteGamma(degreesOfFreedom / 2, Math.max(x, 0) / 2).lower;
}

/** Probability that chi-square lies above x: the p of a test for too large a spread. */
export function chiSquareUpperTail({ x, degreesOfFreedom }: { x: number; degreesOfFreedom: number }): number {
  return incompleteGamma(degreesOfFreedom / 2, Math.max(x, 0) / 2).upper;
}

/** Quantile of chi-square: the x below which a share `probability` lies; 0 and ∞ at the ends, NaN outside. */
export function chiSquareQuantile({
  probability,
  degreesOfFreedom,
}: {
  probability: number;
  degreesOfFreedom: number;
}): number {
  if (!(degreesOfFreedom > 0) || !(probability >= 0 && probability <= 1)) return Number.NaN;
  if (probability === 0) return 0;
  if (probability === 1) return Number.POSITIVE_INFINITY;
  const excess =
    probability < 0.5
      ? (x: number) => chiSquareCdf({ x, degreesOfFreedom }) - probability
      : (x: number) => 1 - probability - chiSquareUpperTail({ x, degreesOfFreedom });
  return findPositiveRoot(excess, degreesOfFreedom);
}
