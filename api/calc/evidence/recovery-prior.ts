import { normalCdf, normalDensity, normalQuantile } from '../statistics/normal.ts';

/**
 * What is believed of a recovery (fraction 0..1) before the lot is tested: a
 * logit-normal distribution, ln(r / (1 − r)) ~ Normal(logitMean, logitSd). A
 * logitSd of 0 is a recovery taken as known.
 */
export interface RecoveryPrior {
  logitMean: number;
  logitSd: number;
}

/** Probabilities of equal cells of ln r: cell k is centred at `topLog − k × step`; one cell without width when the recovery is known. */
export interface LogRecoveryCells {
  topLog: number;
  cellWidth: number;
  massFrac: Float64Array;
}

const LARGEST_LOGIT_SD = 6;
const logistic = (logit: number) => 1 / (1 + Math.exp(-logit));

/** Mean and variance of the logistic of a normal variable, and the slope of the mean, by the trapezoidal rule on z ∈ [−8, 8]. */
function logitNormalMoments(prior: RecoveryPrior): { mean: number; variance: number; slope: number } {
  let mean = 0;
  let square = 0;
  let total = 0;
  for (let z = -8; z <= 8; z += 0.125) {
    const weight = Math.exp(-0.5 * z * z);
    const recovery = logistic(prior.logitMean + prior.logitSd * z);
    total += weight;
    mean += weight * recovery;
    square += weight * recovery * recovery;
  }
  mean /= total;
  square /= total;
  return { mean, variance: square - mean * mean, slope: mean - square };
}

function logitMeanFor(mean: number, logitSd: number): number {
  let logitMean = Math.log(mean / (1 - mean));
  let low = -60;
  let high = 60;
  for (let step = 0; step < 60; step++) {
    const moments = logitNormalMoments({ logitMean, logitSd });
    const excess = moments.mean - mean;
    if (Math.abs(excess) < 1e-11) break;
    if (excess > 0) high = logitMean;
    else low = logitMean;
    const newton = logitMean - excess / moments.slope;
    logitMean = newton > low && newton < high ? newton : (low + high) / 2;
  }
  return logitMean;
}

/**
 * The logit-normal prior with a given mean and standard deviation (both as
 * fractions). Null where none exists: the mean must lie between 0 and 1, and
 * the standard deviation well below its bound √(mean (1 − mean)).
 * Example: mean 0.85, sd 0.05 gives logitMean 1.788, logitSd 0.393.
 */
export function recoveryPriorFrom({ mean, sd }: { mean: number; sd: number }): RecoveryPrior | null {
  if (!(mean > 0 && mean < 1) || !(sd >= 0)) return null;
  if (sd < 1e-6) return { logitMean: Math.log(mean / (1 - mean)), logitSd: 0 };
  let low = 0;
  let high = LARGEST_LOGIT_SD;
  const largest = logitNormalMoments({ logitMean: logitMeanFor(mean, high), logitSd: high });
  if (sd * sd >= largest.variance) return null;
  let logitSd = Math.min(sd / (mean * (1 - mean)), high / 2);
  for (let step = 0; step < 60; step++) {
    const logitMean = logitMeanFor(mean, logitSd);
    const excess = Math.sqrt(logitNormalMoments({ logitMean, logitSd }).variance) / sd - 1;
    if (Math.abs(excess) < 1e-8) return { logitMean, logitSd };
    if (excess > 0) high = logitSd;
    else low = logitSd;
    const proportional = logitSd / (1 + excess);
    logitSd = proportional > low && proportional < high ? proportional : (low + high) / 2;
  }
  return { logitMean: logitMeanFor(mean, logitSd), logitSd };
}

/** Recovery (fraction) below which the prior puts the probability p. */
export function recoveryQuantile(prior: RecoveryPrior, p: number): number {
  return logistic(prior.logitMean + prior.logitSd * normalQuantile(p));
}

/** Standard deviation of ln r near the middle of the prior: the smallest scale on which it changes. */
export function logRecoveryScale(prior: RecoveryPrior): number {
  return prior.logitSd * (1 - logistic(prior.logitMean + prior.logitSd));
}

/**
 * The prior as probabilities of cells of width `step` in ln r, leaving out 1e-9 at
 * either end. Narrow cells by Simpson's rule on the normal density (relative error below 1e-5), wide ones exactly.
 */
export function logRecoveryCells(prior: RecoveryPrior, step: number): LogRecoveryCells {
  if (prior.logitSd === 0) {
    return { topLog: Math.log(logistic(prior.logitMean)), cellWidth: 0, massFrac: new Float64Array([1]) };
  }
  const first = Math.floor(-Math.log(recoveryQuantile(prior, 1 - 1e-9)) / step);
  const last = Math.floor(-Math.log(recoveryQuantile(prior, 1e-9)) / step);
  const massFrac = new Float64Array(last - first + 1);
  const place = (logRecovery: number) =>
    logRecovery >= 0
      ? Infinity
      : (logRecovery - Math.log(-Math.expm1(logRecovery)) - prior.logitMean) / prior.logitSd;
  let upper = place(-first * step);
  let upperDensity = normalDensity(upper);
  for (let k = 0; k < massFrac.length; k++) {
    const lower = place(-(first + k + 1) * step);
    const lowerDensity = normalDensity(lower);
    const width = upper - lower;
    massFrac[k] =
      width < 0.25
        ? (width / 6) * (lowerDensity + 4 * normalDensity(lower + width / 2) + upperDensity)
        : normalCdf(upper) - normalCdf(lower);
    upper = lower;
    upperDensity = lowerDensity;
  }
  return { topLog: -(first + 0.5) * step, cellWidth: step, massFrac };
}

/** Mean and standard deviation, as fractions, of a logit-normal recovery. */
export function recoveryMoments(prior: RecoveryPrior): { mean: number; sd: number } {
  const { mean, variance } = logitNormalMoments(prior);
  return { mean, sd: Math.sqrt(variance) };
}
