import { studentTQuantile } from '../statistics/student-t.ts';

/** Nobody runs more tests than this of one recipe. */
const mostReplicates = 1000;

/**
 * Tests of one recipe so that the mean is known to ± `halfWidth` with a confidence, given the standard deviation of
 * single tests (same unit): the least n ≥ 2 with t(n − 1)·s/√n ≤ half-width. J. S. Harvey, *Modern Analytical
 * Chemistry* (2000), section 7B. Null where 1,000 would not do or the half-width is not above zero.
 */
export function replicatesForHalfWidth({
  standardDeviation,
  halfWidth,
  confidence = 0.95,
}: {
  standardDeviation: number;
  halfWidth: number;
  confidence?: number;
}): number | null {
  const probability = (1 + confidence) / 2;
  const z = studentTQuantile({ probability, degreesOfFreedom: Number.POSITIVE_INFINITY });
  // t is never below z, so no n below this can do.
  const first = Math.max(2, Math.ceil((z * (standardDeviation / halfWidth)) ** 2));
  for (let n = first; halfWidth > 0 && n <= mostReplicates; n++) {
    const t = studentTQuantile({ probability, degreesOfFreedom: n - 1 });
    if ((t * standardDeviation) / Math.sqrt(n) <= halfWidth) return n;
  }
  return null;
}
