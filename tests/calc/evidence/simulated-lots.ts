import { inferLot } from '../../../api/calc/evidence/infer-lot.ts';
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
const STATED = { plain: { mean: 0.75, sd: 0.12 }, roast: { mean: 0.93, sd: 0.06 } };
const PRIORS = { plain: recoveryPriorFrom(STATED.plain)!, roast: recoveryPriorFrom(STATED.roast)! };

const recoveryOf = ({ logitMean, logitSd }: typeof PRIORS.plain, random: Random): number =>
  1 / (1 + Math.exp(-logitMean - logitSd * random.normal()));

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
  const truth = {
    grade: Math.exp(LOG_GRADE_PRIOR.mean + LOG_GRADE_PRIOR.sd * random.normal()),
    plain: recoveryOf(PRIORS.plain, random),
    roast: recoveryOf(PRIORS.roast, random),
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

/**
 * Where the truth of a simulated lot with beads that are not parted lies among its draws, as a fraction: one lab assay
 * of each metal, a parted test of one treatment, three unparted beads of the other.
 */
function unpartedRanks(lotNumber: number, drawCount: number): Record<string, number> {
  const random = createRandom(lotNumber, 'simulated unparted lot');
  const medians = { Au: 60, Ag: 200 };
  const replicateSd = { median: 0.08, sdLog: 0.8 };
  const metal = (median: number) => ({
    grade: random.lognormal({ median, sdLog: 0.7 }),
    plain: recoveryOf(PRIORS.plain, random),
    roast: recoveryOf(PRIORS.roast, random),
    sd: random.lognormal(replicateSd),
  });
  const [gold, silver] = [metal(medians.Au), metal(medians.Ag)];
  const result = (gradeGpt: number, sd: number) => ({
    gradeGpt: observation(gradeGpt, sd, 'model', random),
    uGpt: U_GPT,
    label: '',
  });
  const parted = ({ grade, plain, sd }: typeof gold) => ({
    labs: [result(grade, sd)],
    smelts: [{ treatmentId: 'plain', ...result(grade * plain, sd) }],
  });
  const [goldGpt, silverGpt] = [gold.grade * gold.roast, silver.grade * silver.roast];
  const sumSd = (goldGpt * gold.sd + silverGpt * silver.sd) / (goldGpt + silverGpt);
  const { draws } = inferLot({
    metal: { Au: parted(gold), Ag: parted(silver) },
    unparted: Array.from({ length: 3 }, () => ({
      treatmentId: 'roast',
      ...result(goldGpt + silverGpt, sumSd),
    })),
    treatments: [
      { id: 'plain', name: '', recoveryPrior: { Au: STATED.plain, Ag: STATED.plain } },
      { id: 'roast', name: '', recoveryPrior: { Au: STATED.roast, Ag: STATED.roast } },
    ],
    gradePrior: {
      Au: { median: medians.Au, sdLog: 0.7 },
      Ag: { median: medians.Ag, sdLog: 0.7 },
    },
    replicateSdPrior: { Au: replicateSd, Ag: replicateSd },
    drawCount,
    seed: lotNumber,
  });
  const below = (values: Float64Array, value: number) =>
    values.filter((draw) => draw < value).length / values.length;
  const { plain, roast } = draws.recoveryFrac as Record<'plain' | 'roast', typeof draws.gradeGpt>;
  const recovered = draws.gradeGpt.Au.map(
    (grade, n) => grade * roast.Au[n]! + draws.gradeGpt.Ag[n]! * roast.Ag[n]!,
  );
  return {
    grade: below(draws.gradeGpt.Au, gold.grade),
    silverGrade: below(draws.gradeGpt.Ag, silver.grade),
    plain: below(plain.Au, gold.plain),
    roast: below(roast.Au, gold.roast),
    silverRoast: below(roast.Ag, silver.roast),
    recovered: below(recovered, goldGpt + silverGpt),
    replicateSd: below(draws.replicateSdFrac.Ag, silver.sd),
  };
}

/** The same as `calibrationChiSquares` for lots with unparted beads; draws enough that their ranks are fine. */
export function unpartedChiSquares(lotCount: number): Record<string, number> {
  return chiSquaresOf(lotCount, (lot) => unpartedRanks(lot, 4000));
}

/** Pearson's chi-square of the ranks in ten equal bins against uniform, for each quantity. */
export function calibrationChiSquares(setting: Setting, lotCount: number): Record<string, number> {
  return chiSquaresOf(lotCount, (lot) =>
    Object.fromEntries(Object.entries(ranks(setting, lot, 99)).map(([name, rank]) => [name, rank / 100])),
  );
}

function chiSquaresOf(
  lotCount: number,
  ranksOf: (lot: number) => Record<string, number>,
): Record<string, number> {
  const bins: Record<string, number[]> = {};
  for (let lot = 0; lot < lotCount; lot++) {
    for (const [quantity, rank] of Object.entries(ranksOf(lot))) {
      const counts = (bins[quantity] ??= Array.from({ length: 10 }, () => 0));
      counts[Math.min(9, Math.floor(10 * rank + 1e-9))]!++;
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
