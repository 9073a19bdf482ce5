import type { Finding } from '../finding.ts';
import { effectiveDegreesOfFreedom } from '../statistics/effective-degrees-of-freedom.ts';
import { fisherFUpperTail } from '../statistics/fisher-f.ts';
import { chanceFigure, percentFigure } from './figures.ts';
import type { PooledReplicateSpread } from './replicate-spread.ts';
import type { TrialMetal } from './trial.ts';

export type ComparisonMethod =
  | 'one test each: weighing and sampling error only'
  | 'replicates of one trial: their spread taken for both'
  | 'replicates of both: Welch'
  | "replicate spread pooled with the mill's other trials";

/** What one trial brings to a comparison. */
interface Side {
  n: number;
  /** Variance of one test, (g/t)². */
  variance: number;
  /** Degrees of freedom that variance rests on; only Welch asks each side for its own. */
  degreesOfFreedom: number;
}

export interface ComparisonSpread {
  method: ComparisonMethod;
  a: Side;
  b: Side;
  /** Degrees of freedom of one spread common to both; null where each side has its own. */
  commonDegreesOfFreedom: number | null;
  /** Variance of the difference from what replicates do not average down, (g/t)². */
  sharedVariance: number;
}

/** Variance of b − a from what differs between tests, after `further` more tests of each. */
export function ownVarianceOfDifference({ a, b }: ComparisonSpread, further: number): number {
  return a.variance / (a.n + further) + b.variance / (b.n + further);
}

/** Degrees of freedom of the difference after `further` more tests of each; shared errors count as known. */
export function degreesOfFreedomOf(spread: ComparisonSpread, further: number): number {
  const shared = { variance: spread.sharedVariance, degreesOfFreedom: Number.POSITIVE_INFINITY };
  if (spread.commonDegreesOfFreedom !== null) {
    const variance = ownVarianceOfDifference(spread, further);
    return effectiveDegreesOfFreedom([
      { variance, degreesOfFreedom: spread.commonDegreesOfFreedom + 2 * further },
      shared,
    ]);
  }
  const partOf = (side: Side) => ({
    variance: side.variance / (side.n + further),
    degreesOfFreedom: side.degreesOfFreedom + further,
  });
  return effectiveDegreesOfFreedom([partOf(spread.a), partOf(spread.b), shared]);
}

/** Chooses where the spread between replicates is taken from; see `compareTrials` for the rule. */
export function chooseSpread({
  a,
  b,
  pooled,
  names,
}: {
  a: TrialMetal;
  b: TrialMetal;
  pooled: PooledReplicateSpread | null;
  names: { a: string; b: string };
}): { spread: ComparisonSpread; findings: Finding[] } {
  const sharedVariance = a.uSharedGpt ** 2 + b.uSharedGpt ** 2;
  const side = (trial: TrialMetal, variance: number, degreesOfFreedom: number): Side => ({
    n: trial.n,
    variance: Math.max(variance, trial.uWeighingAndSamplingGpt ** 2),
    degreesOfFreedom,
  });
  const relativeSide = (trial: TrialMetal, relativeVariance: number, degreesOfFreedom: number): Side =>
    side(trial, relativeVariance * trial.meanGpt.value ** 2, degreesOfFreedom);
  const findings = pooled
    ? [...contradiction(a, pooled, '/a', names.a), ...contradiction(b, pooled, '/b', names.b)]
    : [];
  const bothHaveReplicates = a.standardDeviationGpt !== null && b.standardDeviationGpt !== null;

  if (pooled && !(findings.length > 0 && bothHaveReplicates)) {
    const degreesOfFreedom = pooled.degreesOfFreedom + (a.n - 1) + (b.n - 1);
    const relativeVariance =
      (pooled.degreesOfFreedom * pooled.value ** 2 + sumOfSquares(a) + sumOfSquares(b)) / degreesOfFreedom;
    return {
      spread: {
        method: "replicate spread pooled with the mill's other trials",
        a: relativeSide(a, relativeVariance, degreesOfFreedom),
        b: relativeSide(b, relativeVariance, degreesOfFreedom),
        commonDegreesOfFreedom: degreesOfFreedom,
        sharedVariance,
      },
      findings,
    };
  }
  if (bothHaveReplicates) {
    return {
      spread: {
        method: 'replicates of both: Welch',
        a: side(a, (a.standardDeviationGpt ?? 0) ** 2, a.n - 1),
        b: side(b, (b.standardDeviationGpt ?? 0) ** 2, b.n - 1),
        commonDegreesOfFreedom: null,
        sharedVariance,
      },
      findings,
    };
  }
  const lender = a.relativeSd !== null ? a : b;
  const degreesOfFreedom = lender.n - 1;
  const relativeVariance = (lender.relativeSd ?? 0) ** 2;
  return {
    spread: {
      method:
        lender.relativeSd === null
          ? 'one test each: weighing and sampling error only'
          : 'replicates of one trial: their spread taken for both',
      a: relativeSide(a, relativeVariance, degreesOfFreedom),
      b: relativeSide(b, relativeVariance, degreesOfFreedom),
      commonDegreesOfFreedom: degreesOfFreedom,
      sharedVariance,
    },
    findings,
  };
}

function sumOfSquares(trial: TrialMetal): number {
  return (trial.n - 1) * (trial.relativeSd ?? 0) ** 2;
}

/** Whether a trial's own replicates scatter more than the pooled spread admits (F test, 5 %). */
function contradiction(
  trial: TrialMetal,
  pooled: PooledReplicateSpread,
  path: string,
  name: string,
): Finding[] {
  if (trial.relativeSd === null) return [];
  const p = fisherFUpperTail({
    f: (trial.relativeSd / pooled.value) ** 2,
    numeratorDf: trial.n - 1,
    denominatorDf: pooled.degreesOfFreedom,
  });
  if (!(p < 0.05)) return [];
  return [
    {
      code: 'replicates-spread-beyond-other-trials',
      level: 'warning',
      path,
      sentence: `The tests of ${name} scatter by ${percentFigure(trial.relativeSd)}, and those of the mill's other trials by ${percentFigure(pooled.value)}; chance alone would do that in ${chanceFigure(p)} of cases, so the spread of the other trials is not a safe guide here.`,
    },
  ];
}
