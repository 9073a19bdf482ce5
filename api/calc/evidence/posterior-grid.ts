import type { Measured } from '../measured.ts';
import { addLogLikelihood, SMALLEST_RELATIVE_SD } from './likelihood.ts';
import type { LogRecoveryCells, RecoveryPrior } from './recovery-prior.ts';
import { logRecoveryCells, logRecoveryScale } from './recovery-prior.ts';

/** Everything known of one metal in one lot. Grades in g/t, dry. */
export interface MetalModel {
  /** ln of the true grade before any evidence: normal. */
  logGradePrior: { mean: number; sd: number };
  /** Relative spread of samples of the lot beyond the stated uncertainties: lognormal; sdLog 0 takes it as known. */
  replicateSd: { medianFrac: number; sdLog: number };
  labs: Measured[];
  /** The tested treatments, with what each test smelt recovered. */
  treatments: { prior: RecoveryPrior; smelts: Measured[] }[];
}

/** Likelihood of a treatment's smelts, scaled to a maximum of 1, on a grid of ln(recovered grade); negligible outside the window. */
interface SmeltLikelihood {
  likelihood: Float64Array;
  windowStart: number;
  windowEnd: number;
}

/** Probabilities of the grade for one replicate sd, with what is needed to draw the recoveries given both. */
export interface GradeGrid {
  firstLog: number;
  step: number;
  points: number;
  /** Per treatment. */
  cells: LogRecoveryCells[];
  smeltLikelihoods: SmeltLikelihood[];
  /** Sums to 1. */
  massFrac: Float64Array;
  /** ln of the density of all results, given the replicate sd. */
  logEvidence: number;
}

/** A replicate sd with its probability and the grades that go with it. */
export interface ReplicateRow {
  sdFrac: number;
  /** Width of its cell in ln(replicate sd). */
  widthLog: number;
  massFrac: number;
  grid: GradeGrid;
}

interface Range {
  lowLog: number;
  highLog: number;
}

const MOST_GRADE_POINTS = 3000;
const COARSE_STEP = 0.1;
const REPLICATE_SD_POINTS = 14;
const PRIOR_REACH = 2.75;
const NEGLIGIBLE_MASS = 1e-9;

function smeltLikelihood(
  smelts: Measured[],
  grid: { firstLog: number; step: number; points: number },
  relativeSd: number,
): SmeltLikelihood & { logMaximum: number } {
  const likelihood = new Float64Array(grid.points);
  addLogLikelihood(likelihood, smelts, grid, relativeSd);
  let logMaximum = -Infinity;
  for (let i = 0; i < grid.points; i++) if (likelihood[i]! > logMaximum) logMaximum = likelihood[i]!;
  let windowStart = grid.points;
  let windowEnd = 0;
  for (let i = 0; i < grid.points; i++) {
    likelihood[i] = Math.exp(likelihood[i]! - logMaximum);
    if (likelihood[i]! > 1e-200) {
      windowStart = Math.min(windowStart, i);
      windowEnd = i + 1;
    }
  }
  return { likelihood, windowStart, windowEnd, logMaximum };
}

/** Takes a treatment's recovery out of the joint density: the sum over recovery is a convolution in logarithms. */
function addRecoveryIntegral(
  logMass: Float64Array,
  { massFrac }: LogRecoveryCells,
  { likelihood, windowStart, windowEnd, logMaximum }: SmeltLikelihood & { logMaximum: number },
): void {
  const deepest = massFrac.length - 1;
  for (let j = 0; j < logMass.length; j++) {
    const start = Math.max(j, windowStart);
    const end = Math.min(j + deepest + 1, windowEnd);
    let sum = 0;
    for (let i = start; i < end; i++) sum += massFrac[j + deepest - i]! * likelihood[i]!;
    logMass[j]! += Math.log(sum) + logMaximum;
  }
}

/** One pass of the quadrature over a range of ln grade. Null where the results allow no grade in it. */
function evaluateGrid(
  model: MetalModel,
  relativeSd: number,
  { lowLog, highLog }: Range,
  step: number,
): GradeGrid | null {
  const points = Math.max(2, Math.ceil((highLog - lowLog) / step) + 1);
  const cells = model.treatments.map(({ prior }) => logRecoveryCells(prior, step));
  const massFrac = new Float64Array(points);
  for (let j = 0; j < points; j++) {
    const z = (lowLog + j * step - model.logGradePrior.mean) / model.logGradePrior.sd;
    massFrac[j] = -0.5 * z * z;
  }
  addLogLikelihood(massFrac, model.labs, { firstLog: lowLog, step }, relativeSd);
  const smeltLikelihoods = model.treatments.map(({ smelts }, t) => {
    const deepest = cells[t]!.massFrac.length - 1;
    const firstLog = lowLog + cells[t]!.topLog - deepest * step;
    const found = smeltLikelihood(smelts, { firstLog, step, points: points + deepest }, relativeSd);
    addRecoveryIntegral(massFrac, cells[t]!, found);
    return found;
  });
  let logMaximum = -Infinity;
  for (let j = 0; j < points; j++) if (massFrac[j]! > logMaximum) logMaximum = massFrac[j]!;
  if (logMaximum === -Infinity) return null;
  let total = 0;
  for (let j = 0; j < points; j++) total += massFrac[j] = Math.exp(massFrac[j]! - logMaximum);
  for (let j = 0; j < points; j++) massFrac[j] = massFrac[j]! / total;
  const logEvidence = logMaximum + Math.log(total * step);
  return { firstLog: lowLog, step, points, cells, smeltLikelihoods, massFrac, logEvidence };
}

/** The narrowest scale (in ln grade) on which the probabilities change. */
function narrowestScale(model: MetalModel, replicateSdFrac: number): number {
  let information = 0;
  for (const { value, u } of [...model.labs, ...model.treatments.flatMap(({ smelts }) => smelts)]) {
    const relativeSd = u / Math.max(Math.abs(value), u, Number.MIN_VALUE);
    const spread = Math.max(SMALLEST_RELATIVE_SD, replicateSdFrac);
    information += 1 / (relativeSd * relativeSd + spread * spread);
  }
  const priors = model.treatments.map(({ prior }) => logRecoveryScale(prior)).filter((scale) => scale > 0);
  return Math.min(1 / Math.sqrt(information), ...priors);
}

/** The range of ln grade outside which a grid has next to no probability. */
function bulkRange({ massFrac, firstLog, step, points }: GradeGrid): Range {
  const first = massFrac.findIndex((mass) => mass > NEGLIGIBLE_MASS);
  const last = massFrac.findLastIndex((mass) => mass > NEGLIGIBLE_MASS);
  return {
    lowLog: firstLog + (Math.max(0, first) - 2) * step,
    highLog: firstLog + ((last < 0 ? points - 1 : last) + 2) * step,
  };
}

/**
 * The grades that go with one replicate sd. Closes in with ever finer grids, each
 * blurred by its own step (added in squares to the replicate sd) lest it step
 * over a narrow peak; the last, at a third of the narrowest scale, is not
 * blurred, and is widened until no probability is left at its ends.
 */
function gradeGrid(model: MetalModel, replicateSdFrac: number): GradeGrid | null {
  const { mean, sd } = model.logGradePrior;
  const scale = narrowestScale(model, replicateSdFrac);
  let range: Range = { lowLog: mean - 6 * sd, highLog: mean + 6 * sd };
  let step = COARSE_STEP;
  const finestStep = () => Math.max((range.highLog - range.lowLog) / MOST_GRADE_POINTS, scale / 3);
  while (step > finestStep()) {
    const grid = evaluateGrid(model, Math.hypot(replicateSdFrac, step), range, step);
    if (grid === null) return null;
    range = bulkRange(grid);
    step = Math.max(step / 5, finestStep());
  }
  for (let attempt = 1; ; attempt++) {
    const grid = evaluateGrid(model, replicateSdFrac, range, step);
    if (grid === null) return null;
    const low = grid.massFrac[0]! > NEGLIGIBLE_MASS;
    const high = grid.massFrac[grid.points - 1]! > NEGLIGIBLE_MASS;
    if ((!low && !high) || attempt === 20) return grid;
    const width = range.highLog - range.lowLog;
    if (low) range.lowLog -= width;
    if (high) range.highLog += width;
  }
}

/**
 * Equally spaced replicate sds in ln, between two places given in prior standard
 * deviations from the median, with their probabilities. From the largest down,
 * and only until the results have ruled the smaller ones out: the smaller the
 * sd, the finer and dearer its grid.
 */
function rowsBetween(model: MetalModel, lowZ: number, highZ: number): (ReplicateRow & { z: number })[] {
  const { medianFrac, sdLog } = model.replicateSd;
  const certain = !(sdLog > 0) || !(medianFrac > 0);
  const spacing = (highZ - lowZ) / (REPLICATE_SD_POINTS - 1);
  const places = certain ? [0] : Array.from({ length: REPLICATE_SD_POINTS }, (_, i) => highZ - i * spacing);
  const rows: (ReplicateRow & { z: number })[] = [];
  let logMaximum = -Infinity;
  for (const z of places) {
    const sdFrac = certain ? Math.max(0, medianFrac) : medianFrac * Math.exp(sdLog * z);
    const grid = gradeGrid(model, sdFrac);
    if (grid === null) break;
    const logMass = grid.logEvidence - 0.5 * z * z;
    rows.push({ z, sdFrac, widthLog: certain ? 0 : spacing * sdLog, massFrac: logMass, grid });
    if (logMass < logMaximum + Math.log(NEGLIGIBLE_MASS)) break;
    logMaximum = Math.max(logMaximum, logMass);
  }
  let total = 0;
  for (const row of rows) total += row.massFrac = Math.exp(row.massFrac - logMaximum);
  for (const row of rows) row.massFrac /= total;
  return rows;
}

/**
 * Probabilities of replicate sd and grade together: first over the whole prior
 * of the replicate sd, then, while its grid is wide beside what the results
 * leave of it, again closer in. Empty where the results contradict each other
 * beyond any probability.
 */
export function posteriorRows(model: MetalModel): ReplicateRow[] {
  let [lowZ, highZ] = [-PRIOR_REACH, PRIOR_REACH];
  for (let pass = 1; ; pass++) {
    const rows = rowsBetween(model, lowZ, highZ);
    if (rows.length <= 1 || pass === 4) return rows;
    const spacing = (highZ - lowZ) / (REPLICATE_SD_POINTS - 1);
    const mean = rows.reduce((sum, { massFrac, z }) => sum + massFrac * z, 0);
    const sd = Math.sqrt(rows.reduce((sum, { massFrac, z }) => sum + massFrac * (z - mean) ** 2, 0));
    if (spacing < 0.8 * sd) return rows;
    const reach = 4.2 * Math.max(sd, spacing / 2.5);
    lowZ = Math.max(-PRIOR_REACH, mean - reach);
    highZ = Math.min(PRIOR_REACH, mean + reach);
  }
}
