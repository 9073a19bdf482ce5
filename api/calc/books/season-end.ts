import { studentTQuantile } from '../statistics/student-t.ts';

/** A forecast of how a sum will stand: 8 chances in 10 between p10 and p90. */
export interface EndRange {
  p10: number;
  p50: number;
  p90: number;
}

/** 10 and 90 % points of the standard normal distribution (NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.1). */
const Z = 1.2815515655446004;
/** Without two complete months nothing is known of how months vary: half of what is left, as a standard deviation. */
const UNKNOWN_SPREAD = 0.5;

/** By how much wider a range is whose spread is known from n values only (Student's t on n − 1 degrees). */
const widening = (n: number): number => studentTQuantile({ probability: 0.9, degreesOfFreedom: n - 1 }) / Z;

const rangeOf = (mean: number, sd: number): EndRange => ({
  p10: mean - Z * sd,
  p50: mean,
  p90: mean + Z * sd,
});

function meanAndSd(values: readonly number[]): { mean: number; sd: number } {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  const squares = values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  return { mean, sd: Math.sqrt(squares / (values.length - 1)) };
}

/**
 * How much of a quantity a season will have come to: what was done, and what is planned for the rest × the ratio of
 * done to planned in the complete months.
 *
 * end = Σ done + r × left, r = mean of done ÷ planned. Of n months, u² = (sd × left)² × (1/m + 1/n), m the number of
 * months left: the months to come vary as those that were, and their mean is known from n; the range is Student's t on n − 1 degrees. With fewer than two complete
 * months the plan stands, ± half of what is left. Never less than what was done.
 * Source: prediction of a mean from a mean, as in ISO 16269-8:2004 (prediction intervals; from memory).
 */
export function quantityAtEnd({
  done,
  complete,
  left,
  monthsLeft,
}: {
  /** Up to today. */
  done: number;
  /** Complete months that had a plan. */
  complete: readonly { planned: number; done: number }[];
  /** Planned for what is left of the season. */
  left: number;
  monthsLeft: number;
}): EndRange {
  const ratios = complete.filter(({ planned }) => planned > 0).map((one) => one.done / one.planned);
  const known = ratios.length >= 2 ? meanAndSd(ratios) : null;
  const mean = done + (known?.mean ?? 1) * left;
  const sd =
    known === null
      ? UNKNOWN_SPREAD * left
      : widening(ratios.length) *
        known.sd *
        left *
        Math.sqrt(1 / Math.max(monthsLeft, 1) + 1 / ratios.length);
  const range = rangeOf(mean, left > 0 ? sd : 0);
  return { ...range, p10: Math.max(done, range.p10) };
}

/** A planned, running or finished batch that nothing was settled of yet, as it was forecast. */
export interface OpenBatch {
  mean: number;
  p10: number;
  p90: number;
  /** Of its costs, what is in the costs to date already. */
  bookedCost: number;
}

/**
 * Net value at the season's end: what it is to date, what the batches not settled yet are forecast to bring, and the
 * costs of the months left that belong to no batch.
 *
 * mean = to date + Σ (forecast + its costs already counted) − costs a month × months left; u² = Σ ((p90 − p10) ÷ 2·z)²
 * + (sd of the months' costs)² × months left × (1 + months left ÷ n). Batches that nobody has planned yet are not in
 * it. With fewer than two complete months the budget's fixed costs stand for the costs of the months left, ± half.
 * Source: common practice; JCGM 100:2008, 5.1.2 for the sum of independent parts.
 */
export function netValueAtEnd({
  toDate,
  openBatches,
  monthCosts,
  monthsLeft,
  plannedCostsLeft,
}: {
  toDate: number;
  openBatches: readonly OpenBatch[];
  /** Costs of the complete months that belong to no batch. */
  monthCosts: readonly number[];
  monthsLeft: number;
  plannedCostsLeft: number;
}): EndRange & { fromBatches: number; costsLeft: number } {
  const fromBatches = openBatches.reduce((sum, { mean, bookedCost }) => sum + mean + bookedCost, 0);
  const batchVariance = openBatches.reduce((sum, { p10, p90 }) => sum + ((p90 - p10) / (2 * Z)) ** 2, 0);
  const known = monthCosts.length >= 2 ? meanAndSd(monthCosts) : null;
  const costsLeft = known === null ? plannedCostsLeft : known.mean * monthsLeft;
  const costVariance =
    known === null
      ? (UNKNOWN_SPREAD * costsLeft) ** 2
      : (widening(monthCosts.length) * known.sd) ** 2 * monthsLeft * (1 + monthsLeft / monthCosts.length);
  return {
    ...rangeOf(toDate + fromBatches - costsLeft, Math.sqrt(batchVariance + costVariance)),
    fromBatches,
    costsLeft,
  };
}
