import { pauleMandelVariance } from '../assay/lab-assay.ts';
import type { Measured } from '../measured.ts';
import { mean, standardDeviation } from '../statistics/sample.ts';
import { recoveryMoments, recoveryPriorFrom } from './recovery-prior.ts';

/**
 * What one lot's own tests say of a treatment's recovery r: a normal likelihood of ln(r / (1 − r)), what was believed
 * beforehand taken out.
 */
export interface LotRecovery {
  logitMean: number;
  logitSd: number;
}

/** A lot that narrows what was stated by less than this share of its weight says nothing that could be told from chance. */
const LEAST_WEIGHT = 0.1;

/**
 * Takes what was stated of a recovery out of the draws of what is known after a lot's tests. Both are normal on the
 * logit scale (so the posterior is fitted), so their precisions subtract: 1/s² − 1/s₀² with mean
 * (m/s² − m₀/s₀²)/(1/s² − 1/s₀²) (A. Gelman et al., *Bayesian Data Analysis*, 3rd ed. 2013, section 2.5). Null where
 * the lot says next to nothing, or the stated recovery is impossible or taken as known.
 */
export function recoveryOfLot(draws: Float64Array, stated: { mean: number; sd: number }): LotRecovery | null {
  const prior = recoveryPriorFrom(stated);
  if (prior === null || prior.logitSd === 0 || draws.length < 2) return null;
  const logits = [...draws].map((recovery) => Math.log(recovery / (1 - recovery)));
  const s = standardDeviation(logits);
  const before = prior.logitSd ** -2;
  const gained = s ** -2 - before;
  if (!(gained > LEAST_WEIGHT * before) || !Number.isFinite(gained)) return null;
  return {
    logitMean: (mean(logits) * s ** -2 - prior.logitMean * before) / gained,
    logitSd: 1 / Math.sqrt(gained),
  };
}

/**
 * Of the variance that a stated recovery leaves open, the share that is the treatment itself and so the same on every
 * lot; the rest is how one lot differs from the next. An assumption: nothing is published on small mills.
 */
const SAME_ON_EVERY_LOT = 0.5;
/** How many lots' worth of weight the assumed difference between lots has against what the lots show. */
const ASSUMED_LOTS = 4;

/**
 * The recovery to be expected on a further lot, from what was stated and what other lots showed: a normal
 * hierarchical model of the logit (A. Gelman et al., *Bayesian Data Analysis*, 3rd ed. 2013, section 5.4). With s₀²
 * the variance as stated, the treatment's own mean μ ~ N(m₀, ½ s₀²), each lot N(μ, t), a lot's tests N(lot, sⱼ²);
 * t starts at ½ s₀² and moves to the spread that the lots show (Paule and Mandel, J. Res. NBS 87, 1982, 377) as they
 * become many: t = (4·½ s₀² + (n − 1) τ²)/(4 + n − 1). The next lot is then N(μ̂, var μ̂ + t). Without another lot, or
 * where what is stated is impossible or taken as known, the statement stands.
 */
export function expectedRecovery(
  stated: { mean: number; sd: number },
  lots: readonly LotRecovery[],
): { mean: number; sd: number } {
  const prior = recoveryPriorFrom(stated);
  if (prior === null || prior.logitSd === 0 || lots.length === 0) return stated;
  const ofTreatment = SAME_ON_EVERY_LOT * prior.logitSd ** 2;
  const assumed = (1 - SAME_ON_EVERY_LOT) * prior.logitSd ** 2;
  const n = lots.length;
  const seen = lots.map(({ logitMean, logitSd }): Measured => ({ value: logitMean, u: logitSd }));
  const found = n < 2 ? 0 : pauleMandelVariance(seen);
  const between = (ASSUMED_LOTS * assumed + (n - 1) * found) / (ASSUMED_LOTS + n - 1);
  let precision = 1 / ofTreatment;
  let weighted = prior.logitMean / ofTreatment;
  for (const { value, u } of seen) {
    const weight = 1 / (between + u ** 2);
    precision += weight;
    weighted += weight * value;
  }
  return recoveryMoments({
    logitMean: weighted / precision,
    logitSd: Math.sqrt(1 / precision + between),
  });
}
