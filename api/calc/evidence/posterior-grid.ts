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

export interface ReplicateNode {
  sdFrac: number;
  /** Its place in standard deviations of the prior of ln(replicate sd). */
  z: number;
  massFrac: number;
}

/** Likelihood of a treatment's smelts, scaled to a maximum of 1, on a grid of ln(recovered grade); negligible outside the window. */
interface SmeltLikelihood {
  likelihood: Float64Array;
  windowStart: number;
  windowEnd: number;
}

/** Probabilities of (replicate sd, grade) pairs on a grid, with what is needed to draw the recoveries given both. */
export interface PosteriorGrid {
  firstLog: number;
  step: number;
  points: number;
  /** Per treatment. */
  cells: LogRecoveryCells[];
  nodes: ReplicateNode[];
  /** Per node, per treatment. */
  smeltLikelihoods: SmeltLikelihood[][];
  /** Row by row of replicate sds; sums to 1. */
  massFrac: Float64Array;
}

interface Range {
  lowLog: number;
  highLog: number;
}

const MOST_GRADE_POINTS = 3000;
const COARSE_STEP = 0.1;
const REPLICATE_SD_POINTS = 12;
const PRIOR_REACH = 2.75;
const NODE_SPACING = (2 * PRIOR_REACH) / (REPLICATE_SD_POINTS - 1);

/** Equally spaced nodes in ln(replicate sd) between two places given in prior standard deviations from its median. */
function replicateNodes(
  { medianFrac, sdLog }: MetalModel['replicateSd'],
  lowZ: number,
  highZ: number,
): ReplicateNode[] {
  if (!(sdLog > 0) || !(medianFrac > 0)) return [{ sdFrac: Math.max(0, medianFrac), z: 0, massFrac: 1 }];
  return Array.from({ length: REPLICATE_SD_POINTS }, (_, i) => {
    const z = lowZ + (i * (highZ - lowZ)) / (REPLICATE_SD_POINTS - 1);
    return { sdFrac: medianFrac * Math.exp(sdLog * z), z, massFrac: Math.exp(-0.5 * z * z) };
  });
}

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
  cells: LogRecoveryCells,
  found: SmeltLikelihood,
  logMaximum: number,
) {
  const { massFrac } = cells;
  const deepest = massFrac.length - 1;
  const { likelihood, windowStart, windowEnd } = found;
  for (let j = 0; j < logMass.length; j++) {
    const start = Math.max(j, windowStart);
    const end = Math.min(j + deepest + 1, windowEnd);
    let sum = 0;
    for (let i = start; i < end; i++) sum += massFrac[j + deepest - i]! * likelihood[i]!;
    logMass[j]! += Math.log(sum) + logMaximum;
  }
}

/**
 * One pass of the quadrature. `blur` (relative, added in squares to the
 * replicate sd) keeps a coarse pass from stepping over a narrow peak. Null where
 * the evidence contradicts itself so far that no grade has any probability.
 */
function evaluateGrid(
  model: MetalModel,
  nodes: ReplicateNode[],
  { lowLog, highLog }: Range,
  step: number,
  blur: number,
): PosteriorGrid | null {
  const points = Math.max(2, Math.ceil((highLog - lowLog) / step) + 1);
  const cells = model.treatments.map(({ prior }) => logRecoveryCells(prior, step));
  const massFrac = new Float64Array(nodes.length * points);
  const smeltLikelihoods: SmeltLikelihood[][] = [];
  for (const [row, node] of nodes.entries()) {
    const relativeSd = Math.hypot(node.sdFrac, blur);
    const logMass = massFrac.subarray(row * points, (row + 1) * points);
    for (let j = 0; j < points; j++) {
      const z = (lowLog + j * step - model.logGradePrior.mean) / model.logGradePrior.sd;
      logMass[j] = Math.log(node.massFrac) - 0.5 * z * z;
    }
    addLogLikelihood(logMass, model.labs, { firstLog: lowLog, step }, relativeSd);
    smeltLikelihoods.push(
      model.treatments.map(({ smelts }, t) => {
        const deepest = cells[t]!.massFrac.length - 1;
        const firstLog = lowLog + cells[t]!.topLog - deepest * step;
        const found = smeltLikelihood(smelts, { firstLog, step, points: points + deepest }, relativeSd);
        addRecoveryIntegral(logMass, cells[t]!, found, found.logMaximum);
        return found;
      }),
    );
  }
  let logMaximum = -Infinity;
  for (let i = 0; i < massFrac.length; i++) if (massFrac[i]! > logMaximum) logMaximum = massFrac[i]!;
  if (logMaximum === -Infinity) return null;
  let total = 0;
  for (let i = 0; i < massFrac.length; i++) total += massFrac[i] = Math.exp(massFrac[i]! - logMaximum);
  for (let i = 0; i < massFrac.length; i++) massFrac[i] = massFrac[i]! / total;
  return { firstLog: lowLog, step, points, cells, nodes, smeltLikelihoods, massFrac };
}

const observationsOf = (model: MetalModel) => [
  ...model.labs,
  ...model.treatments.flatMap(({ smelts }) => smelts),
];

/** The narrowest scale (in ln grade) on which the probabilities may change, given the smallest replicate sd still in play. */
function narrowestScale(model: MetalModel, nodes: ReplicateNode[]): number {
  const smallest = Math.max(SMALLEST_RELATIVE_SD, Math.min(...nodes.map((node) => node.sdFrac)));
  let information = 0;
  for (const { value, u } of observationsOf(model)) {
    const relativeSd = u / Math.max(Math.abs(value), u, Number.MIN_VALUE);
    information += 1 / (relativeSd * relativeSd + smallest * smallest);
  }
  const priors = model.treatments.map(({ prior }) => logRecoveryScale(prior)).filter((scale) => scale > 0);
  return Math.min(1 / Math.sqrt(information), ...priors);
}

const rowsOf = (grid: PosteriorGrid) =>
  grid.nodes.map((_, row) => grid.massFrac.subarray(row * grid.points, (row + 1) * grid.points));

/** Probability at the lowest and at the highest grade of the grid. */
export function edgeMasses(grid: PosteriorGrid): { low: number; high: number } {
  const rows = rowsOf(grid);
  return {
    low: rows.reduce((sum, row) => sum + row[0]!, 0),
    high: rows.reduce((sum, row) => sum + row[row.length - 1]!, 0),
  };
}

/** The range of ln grade outside which a grid has next to no probability. */
function bulkRange(grid: PosteriorGrid): Range {
  const rows = rowsOf(grid);
  let first = grid.points - 1;
  let last = 0;
  for (let j = 0; j < grid.points; j++) {
    let mass = 0;
    for (const row of rows) mass += row[j]!;
    if (mass > 1e-10) {
      first = Math.min(first, j);
      last = j;
    }
  }
  return {
    lowLog: grid.firstLog + (first - 2) * grid.step,
    highLog: grid.firstLog + (last + 2) * grid.step,
  };
}

/**
 * Closes in on the probability with ever finer, less blurred grids. Blur makes
 * small replicate sds likelier, so those it rules out are out; large ones are
 * ruled out only where the blur is too small to matter to all observations together.
 */
function approach(model: MetalModel): { range: Range; nodes: ReplicateNode[]; step: number } | null {
  const { mean, sd } = model.logGradePrior;
  const count = observationsOf(model).length;
  let range: Range = { lowLog: mean - 6 * sd, highLog: mean + 6 * sd };
  let nodes = replicateNodes(model.replicateSd, -PRIOR_REACH, PRIOR_REACH);
  let step = COARSE_STEP;
  for (;;) {
    const blur = step;
    const grid = evaluateGrid(model, nodes, range, step, blur);
    if (grid === null) return null;
    range = bulkRange(grid);
    const masses = rowsOf(grid).map((row) => row.reduce((sum, mass) => sum + mass, 0));
    const smallest = masses.findIndex((mass) => mass > 1e-8);
    nodes = nodes.filter(
      ({ sdFrac }, i) => i >= smallest && (masses[i]! > 1e-8 || sdFrac * sdFrac < count * blur * blur),
    );
    const finest = (range.highLog - range.lowLog) / MOST_GRADE_POINTS;
    const wanted = Math.max(finest, narrowestScale(model, nodes) / 3);
    if (step <= wanted) return { range, nodes, step };
    step = Math.max(wanted, step / 5);
  }
}

/**
 * The final grid: no blur, replicate sds where they have probability, a step of
 * a third of the narrowest scale, and no probability left at either end. Null
 * where the evidence contradicts itself beyond any probability.
 */
export function posteriorGrid(model: MetalModel): PosteriorGrid | null {
  const start = approach(model);
  if (start === null) return null;
  const plausible = start.nodes.map(({ z }) => z);
  const lowZ = Math.max(-PRIOR_REACH, Math.min(...plausible) - NODE_SPACING);
  const highZ = Math.min(PRIOR_REACH, Math.max(...plausible) + NODE_SPACING);
  const nodes = replicateNodes(model.replicateSd, lowZ, highZ);
  const range = { ...start.range };
  for (let attempt = 1; ; attempt++) {
    const grid = evaluateGrid(model, nodes, range, start.step, 0);
    if (grid === null) return null;
    const edges = edgeMasses(grid);
    if ((edges.low < 1e-8 && edges.high < 1e-8) || attempt === 20) return grid;
    const width = range.highLog - range.lowLog;
    if (edges.low >= 1e-8) range.lowLog -= width;
    if (edges.high >= 1e-8) range.highLog += width;
  }
}
