import type { Finding } from '../finding.ts';
import type { Measured } from '../measured.ts';
import { twoSidedTTestPower } from '../statistics/t-test-power.ts';
import { studentTCdf, studentTQuantile } from '../statistics/student-t.ts';
import { comparisonSentence } from './comparison-sentence.ts';
import { chooseSpread, degreesOfFreedomOf, ownVarianceOfDifference } from './comparison-spread.ts';
import type { ComparisonMethod, ComparisonSpread } from './comparison-spread.ts';
import { gptUnit } from './figures.ts';
import type { GradeUnit } from './figures.ts';
import type { PooledReplicateSpread } from './replicate-spread.ts';
import type { AssayedMetal, TrialResult } from './trial.ts';

export interface TrialComparison {
  method: ComparisonMethod;
  /** b − a, g/t. Its u rests on weighing and sampling alone where the method says so. */
  differenceGpt: Measured;
  degreesOfFreedom: number | null;
  /** Null where the spread between replicates is unknown: nothing honest can be said. */
  interval95Gpt: { low: number; high: number } | null;
  /** Probability that b's grade is above a's, flat prior; null where the spread is unknown. */
  probabilityBBetter: number | null;
  verdict: 'a better' | 'b better' | 'not proven';
  /**
   * Further tests of each, so that with 9 chances in 10 the difference would be proven, if it is as large as
   * it looks and the spread stays: 0 when proven, null when the spread is unknown or 100 of
   * each would not do.
   */
  furtherReplicatesOfEach: number | null;
  /** Part of the variance of the difference that weighing alone makes. */
  weighingShareFrac: number;
  sentence: string;
  findings: Finding[];
}

/** Nobody runs more tests than this to settle a treatment. */
const mostReplicates = 100;
const confidence = 0.95;
const wantedPower = 0.9;

/**
 * Says whether one of two trials recovered more of a metal, and how sure that is.
 *
 * The rule: what makes two smelts of one treatment differ (roast, matte, losses, coarse gold) is seen only in
 * replicates. Weighing error never stands in for it, so with one test of each and no knowledge of the
 * replicate spread the verdict is "not proven", whatever the difference. With replicates of both: Welch's t
 * (B. L. Welch, Biometrika 34, 1947, 28). With a pooled relative spread from the mill's OTHER trials: that and
 * the replicates at hand pooled, unless they contradict it. With replicates of one only: their relative
 * spread is taken for both. A spread is never taken smaller than weighing and sampling make it. Errors shared
 * inside a trial (blank, corrections) are counted as independent between the two, which is on the safe side.
 * Proven is: the two-sided 95 % interval leaves out zero.
 *
 * Null if a trial has no result for the metal.
 */
export function compareTrials({
  a,
  b,
  metal,
  pooledReplicateRelativeSd = null,
  names = { a: 'A', b: 'B' },
  gradeUnit = gptUnit,
}: {
  a: TrialResult;
  b: TrialResult;
  metal: AssayedMetal;
  pooledReplicateRelativeSd?: PooledReplicateSpread | null;
  names?: { a: string; b: string };
  /** The unit of grades in the sentence. */
  gradeUnit?: GradeUnit;
}): TrialComparison | null {
  const workedA = a[metal];
  const workedB = b[metal];
  if (workedA === null || workedB === null) return null;
  const { spread, findings } = chooseSpread({
    a: workedA,
    b: workedB,
    pooled: pooledReplicateRelativeSd,
    names,
  });
  const value = workedB.meanGpt.value - workedA.meanGpt.value;

  const u = Math.sqrt(ownVarianceOfDifference(spread, 0) + spread.sharedVariance);
  const known = spread.method !== 'one test each: weighing and sampling error only' && u > 0;
  const degreesOfFreedom = known ? degreesOfFreedomOf(spread, 0) : null;
  const halfWidth =
    degreesOfFreedom === null
      ? null
      : u * studentTQuantile({ probability: (1 + confidence) / 2, degreesOfFreedom });
  const proven = halfWidth !== null && Math.abs(value) > halfWidth;
  const comparison: Omit<TrialComparison, 'sentence'> = {
    method: spread.method,
    differenceGpt: { value, u },
    degreesOfFreedom,
    interval95Gpt: halfWidth === null ? null : { low: value - halfWidth, high: value + halfWidth },
    probabilityBBetter: degreesOfFreedom === null ? null : studentTCdf({ t: value / u, degreesOfFreedom }),
    verdict: proven ? (value > 0 ? 'b better' : 'a better') : 'not proven',
    furtherReplicatesOfEach: proven ? 0 : known ? replicatesToSettle(spread, value) : null,
    weighingShareFrac:
      u > 0 ? (workedA.uWeighingGpt ** 2 / workedA.n + workedB.uWeighingGpt ** 2 / workedB.n) / u ** 2 : 0,
    findings,
  };
  return { ...comparison, sentence: comparisonSentence({ comparison, metal, names, gradeUnit }) };
}

/** Least number of further tests of each that gives the wanted power against the difference as it looks. */
function replicatesToSettle(spread: ComparisonSpread, difference: number): number | null {
  for (let further = 1; further <= mostReplicates; further++) {
    const u = Math.sqrt(ownVarianceOfDifference(spread, further) + spread.sharedVariance);
    const degreesOfFreedom = degreesOfFreedomOf(spread, further);
    const power = twoSidedTTestPower({
      criticalT: studentTQuantile({ probability: (1 + confidence) / 2, degreesOfFreedom }),
      degreesOfFreedom,
      noncentrality: difference / u,
    });
    if (power >= wantedPower) return further;
  }
  return null;
}
