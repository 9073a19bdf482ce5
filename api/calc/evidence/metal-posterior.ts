import type { Measured } from '../measured.ts';
import type { Random } from '../random.ts';
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

/** How finely the probabilities were integrated, to be shown beside the result. */
export interface Quadrature {
  gradePoints: number;
  stepLog: number;
  replicateSdPoints: number;
  /** Probability found at the outermost grade points; should be next to nothing. */
  edgeMassFrac: number;
}

export interface MetalDraws {
  gradeGpt: Float64Array;
  recoveryFrac: Float64Array[];
  replicateSdFrac: Float64Array;
  quadrature: Quadrature;
}

interface ReplicateNode {
  sdFrac: number;
  /** Its place in standard deviations of the prior of ln(replicate sd). */
  z: number;
  massFrac: number;
}

/** For one replicate sd and one treatment: likelihood (scaled to a maximum of 1) of its smelts on a grid of ln(recovered grade). */
interface SmeltLikelihood {
  likelihood: Float64Array;
  windowStart: number;
  windowEnd: number;
}

interface Grid {
  firstLog: number;
  step: number;
  points: number;
  cells: LogRecoveryCells[];
  nodes: ReplicateNode[];
  smeltLikelihoods: SmeltLikelihood[][];
  /** Probability of each (replicate sd, grade) pair, row by row; sums to 1. */
  massFrac: Float64Array;
}

const SMALLEST_RELATIVE_SD = 1e-4;
const MOST_GRADE_POINTS = 3000;
const COARSE_STEP = 0.1;
const REPLICATE_SD_POINTS = 12;
const PRIOR_REACH = 2.75;

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

/** ln of the normal density of an observation (g/t) around an expected grade, with relative and absolute uncertainty. */
function logLikelihood(observed: Measured, expectedGpt: number, relativeVariance: number): number {
  const variance = observed.u * observed.u + relativeVariance * expectedGpt * expectedGpt;
  const residual = observed.value - expectedGpt;
  return (-0.5 * residual * residual) / variance - 0.5 * Math.log(variance);
}

function smeltLikelihood(
  smelts: Measured[],
  firstLog: number,
  step: number,
  points: number,
  relativeVariance: number,
): SmeltLikelihood & { logMaximum: number } {
  const likelihood = new Float64Array(points);
  let logMaximum = -Infinity;
  for (let i = 0; i < points; i++) {
    const expectedGpt = Math.exp(firstLog + i * step);
    let sum = 0;
    for (const smelt of smelts) sum += logLikelihood(smelt, expectedGpt, relativeVariance);
    likelihood[i] = sum;
    if (sum > logMaximum) logMaximum = sum;
  }
  let windowStart = points;
  let windowEnd = 0;
  for (let i = 0; i < points; i++) {
    likelihood[i] = Math.exp(likelihood[i]! - logMaximum);
    if (likelihood[i]! > 1e-200) {
      windowStart = Math.min(windowStart, i);
      windowEnd = i + 1;
    }
  }
  return { likelihood, windowStart, windowEnd, logMaximum };
}

/**
 * One pass of the quadrature. `blur` (relative, squared into every likelihood)
 * keeps a coarse pass from stepping over a narrow peak. Null where the evidence
 * contradicts itself so far that no grade has any probability.
 */
function evaluateGrid(
  model: MetalModel,
  nodes: ReplicateNode[],
  range: { lowLog: number; highLog: number },
  step: number,
  blur: number,
): Grid | null {
  const firstLog = range.lowLog;
  const points = Math.max(2, Math.ceil((range.highLog - range.lowLog) / step) + 1);
  const cells = model.treatments.map(({ prior }) => logRecoveryCells(prior, step));
  const massFrac = new Float64Array(nodes.length * points);
  const smeltLikelihoods: SmeltLikelihood[][] = [];
  let logMaximum = -Infinity;
  for (const [row, node] of nodes.entries()) {
    const relativeVariance = Math.max(SMALLEST_RELATIVE_SD, Math.hypot(node.sdFrac, blur)) ** 2;
    const logMass = massFrac.subarray(row * points, (row + 1) * points);
    for (let j = 0; j < points; j++) {
      const logGrade = firstLog + j * step;
      const z = (logGrade - model.logGradePrior.mean) / model.logGradePrior.sd;
      let sum = Math.log(node.massFrac) - 0.5 * z * z;
      const gradeGpt = Math.exp(logGrade);
      for (const lab of model.labs) sum += logLikelihood(lab, gradeGpt, relativeVariance);
      logMass[j] = sum;
    }
    smeltLikelihoods.push(
      model.treatments.map(({ smelts }, t) => {
        const { topLog, massFrac: priorMass } = cells[t]!;
        const deepest = priorMass.length - 1;
        const recoveredFirstLog = firstLog + topLog - deepest * step;
        const found = smeltLikelihood(smelts, recoveredFirstLog, step, points + deepest, relativeVariance);
        for (let j = 0; j < points; j++) {
          const start = Math.max(j, found.windowStart);
          const end = Math.min(j + deepest + 1, found.windowEnd);
          let sum = 0;
          for (let i = start; i < end; i++) sum += priorMass[j + deepest - i]! * found.likelihood[i]!;
          logMass[j] = logMass[j]! + Math.log(sum) + found.logMaximum;
        }
        return found;
      }),
    );
    for (let j = 0; j < points; j++) if (logMass[j]! > logMaximum) logMaximum = logMass[j]!;
  }
  if (logMaximum === -Infinity) return null;
  let total = 0;
  for (let i = 0; i < massFrac.length; i++) total += massFrac[i] = Math.exp(massFrac[i]! - logMaximum);
  for (let i = 0; i < massFrac.length; i++) massFrac[i] = massFrac[i]! / total;
  return { firstLog, step, points, cells, nodes, smeltLikelihoods, massFrac };
}

/** The narrowest scale (in ln grade) on which the probabilities may change, given the smallest replicate sd still in play. */
function narrowestScale(model: MetalModel, nodes: ReplicateNode[]): number {
  const smallest = Math.max(SMALLEST_RELATIVE_SD, Math.min(...nodes.map((node) => node.sdFrac)));
  let information = 0;
  for (const observed of [...model.labs, ...model.treatments.flatMap(({ smelts }) => smelts)]) {
    const relativeSd = observed.u / Math.max(Math.abs(observed.value), observed.u, Number.MIN_VALUE);
    information += 1 / (relativeSd * relativeSd + smallest * smallest);
  }
  const priors = model.treatments.map(({ prior }) => logRecoveryScale(prior)).filter((scale) => scale > 0);
  return Math.min(1 / Math.sqrt(information), ...priors);
}

const rowsOf = (grid: Grid) =>
  grid.nodes.map((_, row) => grid.massFrac.subarray(row * grid.points, (row + 1) * grid.points));
const sumOf = (values: Float64Array) => values.reduce((sum, value) => sum + value, 0);

/** The range of ln grade outside which a grid has next to no probability. */
function bulkRange(grid: Grid): { lowLog: number; highLog: number } {
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

/** Closes in on the probability with ever finer, less blurred grids. Blur makes small replicate sds likelier, so those it rules out are out. */
function approach(
  model: MetalModel,
): (Pick<Grid, 'nodes' | 'step'> & { lowLog: number; highLog: number }) | null {
  const { mean, sd } = model.logGradePrior;
  let range = { lowLog: mean - 6 * sd, highLog: mean + 6 * sd };
  let nodes = replicateNodes(model.replicateSd, -PRIOR_REACH, PRIOR_REACH);
  let step = COARSE_STEP;
  for (;;) {
    const grid = evaluateGrid(model, nodes, range, step, step);
    if (grid === null) return null;
    range = bulkRange(grid);
    const rows = rowsOf(grid);
    const smallest = rows.findIndex((row) => sumOf(row) > 1e-8);
    nodes = nodes.slice(smallest);
    const finest = (range.highLog - range.lowLog) / MOST_GRADE_POINTS;
    const wanted = Math.max(finest, narrowestScale(model, nodes) / 3);
    if (step <= wanted) return { ...range, nodes, step };
    step = Math.max(wanted, step / 5);
  }
}

/** The final grid: no blur, replicate sds where they have probability, and no probability left at either end. */
function refinedGrid(model: MetalModel): Grid | null {
  const start = approach(model);
  if (start === null) return null;
  let { lowLog, highLog } = start;
  let grid = evaluateGrid(model, start.nodes, start, start.step, 0);
  if (grid === null) return null;
  const masses = rowsOf(grid).map(sumOf);
  const plausible = grid.nodes.filter((_, row) => masses[row]! > 1e-6).map(({ z }) => z);
  const spacing = (2 * PRIOR_REACH) / (REPLICATE_SD_POINTS - 1);
  const lowZ = Math.max(-PRIOR_REACH, Math.min(...plausible) - spacing);
  const highZ = Math.min(PRIOR_REACH, Math.max(...plausible) + spacing);
  const nodes = replicateNodes(model.replicateSd, lowZ, highZ);
  for (let attempt = 0; attempt < 20; attempt++) {
    grid = evaluateGrid(model, nodes, { lowLog, highLog }, start.step, 0);
    if (grid === null) return null;
    const rows = rowsOf(grid);
    const lowEdge = rows.reduce((sum, row) => sum + row[0]!, 0);
    const highEdge = rows.reduce((sum, row) => sum + row[row.length - 1]!, 0);
    if (lowEdge < 1e-8 && highEdge < 1e-8) break;
    const width = highLog - lowLog;
    if (lowEdge >= 1e-8) lowLog -= width;
    if (highEdge >= 1e-8) highLog += width;
  }
  return grid;
}

/** Index of the first cumulative value above `target`, in [low, high). */
function indexAbove(cumulative: Float64Array, target: number, low: number, high: number): number {
  let left = low;
  let right = high - 1;
  while (left < right) {
    const middle = (left + right) >> 1;
    if (cumulative[middle]! > target) right = middle;
    else left = middle + 1;
  }
  return left;
}

/** Draws of each treatment's recovery, given the (replicate sd, grade) cell each draw fell into. */
function drawRecoveries(
  grid: Grid,
  t: number,
  cellOfDraw: Int32Array,
  order: Int32Array,
  random: Random,
): Float64Array {
  const { topLog, cellWidth, massFrac } = grid.cells[t]!;
  const recoveryFrac = new Float64Array(cellOfDraw.length);
  const deepest = massFrac.length - 1;
  const cumulative = new Float64Array(massFrac.length);
  let currentCell = -1;
  let total = 0;
  for (let n = 0; n < order.length; n++) {
    const draw = order[n]!;
    const cell = cellOfDraw[draw]!;
    if (cell !== currentCell) {
      currentCell = cell;
      const { likelihood } = grid.smeltLikelihoods[Math.floor(cell / grid.points)]![t]!;
      const j = cell % grid.points;
      total = 0;
      for (let k = 0; k <= deepest; k++) {
        total += massFrac[k]! * likelihood[j + deepest - k]!;
        cumulative[k] = total;
      }
    }
    const k = indexAbove(cumulative, random.uniform() * total, 0, massFrac.length);
    recoveryFrac[draw] = Math.exp(topLog - k * grid.step + (random.uniform() - 0.5) * cellWidth);
  }
  return recoveryFrac;
}

/**
 * Joint draws of one metal's true grade (g/t) and of each tested treatment's recovery (fraction).
 *
 * Model: ln grade ~ Normal (wide); recovery ~ logit-normal per treatment; a lab
 * assay is grade × (1 + e), a test smelt grade × recovery × (1 + e), each with
 * its own uncertainty u besides; e ~ Normal(0, replicate sd), and the replicate
 * sd itself is unknown, lognormal, and common to the lot: the unevenness of the
 * lot is in the lab's sample as much as in the owner's.
 *
 * Given grade and replicate sd the treatments are independent, so their
 * recoveries integrate out one by one: the probability of (replicate sd, grade)
 * is summed on a grid of ln grade (the integral over a recovery is a
 * convolution in logarithms), drawn by the inverse of its distribution, then
 * each recovery given both. The grid is refined until its step is a third of
 * the narrowest scale; draws are spread evenly within their cell. No Markov
 * chain, so no convergence to judge. Relative uncertainties below 1e-4 are
 * taken as 1e-4. Null where the evidence contradicts itself beyond any probability.
 */
export function drawMetal(model: MetalModel, drawCount: number, random: Random): MetalDraws | null {
  const grid = refinedGrid(model);
  if (grid === null) return null;
  const cumulative = new Float64Array(grid.massFrac.length);
  let total = 0;
  for (let i = 0; i < cumulative.length; i++) cumulative[i] = total += grid.massFrac[i]!;

  const gradeGpt = new Float64Array(drawCount);
  const replicateSdFrac = new Float64Array(drawCount);
  const cellOfDraw = new Int32Array(drawCount);
  const startOfCell = new Int32Array(cumulative.length + 1);
  const [firstNode, secondNode] = grid.nodes;
  const nodeWidth = secondNode === undefined ? 0 : Math.log(secondNode.sdFrac / firstNode!.sdFrac);
  for (let n = 0; n < drawCount; n++) {
    const cell = indexAbove(cumulative, random.uniform() * total, 0, cumulative.length);
    cellOfDraw[n] = cell;
    startOfCell[cell + 1]!++;
    const j = cell % grid.points;
    gradeGpt[n] = Math.exp(grid.firstLog + (j + random.uniform() - 0.5) * grid.step);
    const { sdFrac } = grid.nodes[Math.floor(cell / grid.points)]!;
    replicateSdFrac[n] = sdFrac * Math.exp((random.uniform() - 0.5) * nodeWidth);
  }
  for (let cell = 0; cell < cumulative.length; cell++) startOfCell[cell + 1]! += startOfCell[cell]!;
  const order = new Int32Array(drawCount);
  for (let n = 0; n < drawCount; n++) order[startOfCell[cellOfDraw[n]!]!++] = n;

  const edgeMassFrac = rowsOf(grid).reduce((sum, row) => sum + row[0]! + row[row.length - 1]!, 0);
  return {
    gradeGpt,
    replicateSdFrac,
    recoveryFrac: model.treatments.map((_, t) => drawRecoveries(grid, t, cellOfDraw, order, random)),
    quadrature: {
      gradePoints: grid.points,
      stepLog: grid.step,
      replicateSdPoints: grid.nodes.length,
      edgeMassFrac,
    },
  };
}

/** Draws of a recovery that no test of this lot speaks of. */
export function drawUntestedRecovery(prior: RecoveryPrior, drawCount: number, random: Random): Float64Array {
  const draws = new Float64Array(drawCount);
  for (let n = 0; n < drawCount; n++) {
    draws[n] = 1 / (1 + Math.exp(-prior.logitMean - prior.logitSd * random.normal()));
  }
  return draws;
}
