import { drawMetal } from '../../../api/calc/evidence/metal-posterior.ts';
import type { MetalModel } from '../../../api/calc/evidence/posterior-grid.ts';
import { recoveryPriorFrom } from '../../../api/calc/evidence/recovery-prior.ts';
import type { Random } from '../../../api/calc/random.ts';
import { createRandom } from '../../../api/calc/random.ts';

/** How far the spread between samples is known, and how the error of a result is made. */
export interface Setting {
  replicateSd: MetalModel['replicateSd'];
  /** Results scatter by this many times what the inference is told; 1 if left out. */
  simulatedSdFactor?: number;
  /** `model`: exactly as inferred. `sum`: grade × lognormal + normal, which the inference only approximates. */
  errors: 'model' | 'sum';
  /** Lab assays and test smelts of two treatments. */
  counts: { labs: number; plain: number; roast: number };
}

const U_GPT = 1.5;
const LOG_GRADE_PRIOR = { mean: Math.log(60), sd: 1.2 };
const PRIORS = {
  plain: recoveryPriorFrom({ mean: 0.75, sd: 0.12 })!,
  roast: recoveryPriorFrom({ mean: 0.93, sd: 0.06 })!,
};

function observation(gradeGpt: number, sd: number, errors: Setting['errors'], random: Random): number {
  const unbiased = gradeGpt * Math.exp(-0.5 * sd * sd);
  if (errors === 'sum') return unbiased * Math.exp(sd * random.normal()) + U_GPT * random.normal();
  const scale = sd / U_GPT;
  return Math.sinh(Math.asinh(unbiased * scale) + sd * random.normal()) / scale;
}

/**
 * Draws a lot from the priors, its results from the lot, and counts how many of
 * `drawCount` inferred draws lie below the truth. If the inference is right, each count is uniform on 0…drawCount.
 */
function ranks(setting: Setting, lotNumber: number, drawCount: number): Record<string, number> {
  const random = createRandom(lotNumber, 'simulated lot');
  const { replicateSd, counts } = setting;
  const recovery = ({ logitMean, logitSd }: typeof PRIORS.plain) =>
    1 / (1 + Math.exp(-logitMean - logitSd * random.normal()));
  const truth = {
    grade: Math.exp(LOG_GRADE_PRIOR.mean + LOG_GRADE_PRIOR.sd * random.normal()),
    plain: recovery(PRIORS.plain),
    roast: recovery(PRIORS.roast),
    replicateSd: random.lognormal({ median: replicateSd.medianFrac, sdLog: replicateSd.sdLog }),
  };
  const scatter = truth.replicateSd * (setting.simulatedSdFactor ?? 1);
  const results = (gradeGpt: number, count: number) =>
    Array.from({ length: count }, () => ({
      value: observation(gradeGpt, scatter, setting.errors, random),
      u: U_GPT,
    }));
  const model: MetalModel = {
    logGradePrior: LOG_GRADE_PRIOR,
    replicateSd,
    labs: results(truth.grade, counts.labs),
    treatments: [
      { prior: PRIORS.plain, smelts: results(truth.grade * truth.plain, counts.plain) },
      { prior: PRIORS.roast, smelts: results(truth.grade * truth.roast, counts.roast) },
    ],
  };
  const drawn = drawMetal(model, drawCount, random)!;
  const below = (draws: Float64Array, value: number) => draws.filter((draw) => draw < value).length;
  const [plain, roast] = drawn.recoveryFrac as [Float64Array, Float64Array];
  return {
    grade: below(drawn.gradeGpt, truth.grade),
    plain: below(plain, truth.plain),
    roast: below(roast, truth.roast),
    recovered: below(
      drawn.gradeGpt.map((g, n) => g * plain[n]!),
      truth.grade * truth.plain,
    ),
    difference: below(
      roast.map((r, n) => r - plain[n]!),
      truth.roast - truth.plain,
    ),
    replicateSd: below(drawn.replicateSdFrac, truth.replicateSd),
  };
}

/** Pearson's chi-square of the ranks in ten equal bins against uniform, for each quantity. */
export function calibrationChiSquares(setting: Setting, lotCount: number): Record<string, number> {
  const bins: Record<string, number[]> = {};
  for (let lot = 0; lot < lotCount; lot++) {
    for (const [quantity, rank] of Object.entries(ranks(setting, lot, 99))) {
      (bins[quantity] ??= Array.from({ length: 10 }, () => 0))[Math.floor(rank / 10)]!++;
    }
  }
  const expected = lotCount / 10;
  return Object.fromEntries(
    Object.entries(bins).map(([quantity, counts]) => [
      quantity,
      counts.reduce((sum, count) => sum + (count - expected) ** 2 / expected, 0),
    ]),
  );
}
