import type { Random } from '../random.ts';
import type { MetalModel, PosteriorGrid } from './posterior-grid.ts';
import { edgeMasses, posteriorGrid } from './posterior-grid.ts';
import type { RecoveryPrior } from './recovery-prior.ts';

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
  grid: PosteriorGrid,
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
  let first = 0;
  let last = 0;
  for (let n = 0; n < order.length; n++) {
    const draw = order[n]!;
    const cell = cellOfDraw[draw]!;
    if (cell !== currentCell) {
      currentCell = cell;
      const { likelihood, windowStart, windowEnd } =
        grid.smeltLikelihoods[Math.floor(cell / grid.points)]![t]!;
      const lowest = (cell % grid.points) + deepest;
      first = Math.max(0, lowest - windowEnd + 1);
      last = Math.min(deepest, lowest - windowStart);
      total = 0;
      for (let k = first; k <= last; k++) {
        total += massFrac[k]! * likelihood[lowest - k]!;
        cumulative[k] = total;
      }
    }
    const k = indexAbove(cumulative, random.uniform() * total, first, last + 1);
    recoveryFrac[draw] = Math.exp(topLog - k * grid.step + (random.uniform() - 0.5) * cellWidth);
  }
  return recoveryFrac;
}

/**
 * Joint draws of one metal's true grade (g/t) and of each tested treatment's recovery (fraction).
 *
 * Model: ln grade ~ Normal (wide); recovery ~ logit-normal per treatment; a lab
 * assay sees the grade, a test smelt grade × recovery, each with its own
 * uncertainty u and besides with a lognormal factor of mean 1 (`addLogLikelihood`).
 * The spread of that factor, the replicate sd, is unknown, lognormal, and common
 * to the lot: the unevenness of the lot is in the lab's sample as much as in the owner's.
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
  const grid = posteriorGrid(model);
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

  const edges = edgeMasses(grid);
  return {
    gradeGpt,
    replicateSdFrac,
    recoveryFrac: model.treatments.map((_, t) => drawRecoveries(grid, t, cellOfDraw, order, random)),
    quadrature: {
      gradePoints: grid.points,
      stepLog: grid.step,
      replicateSdPoints: grid.nodes.length,
      edgeMassFrac: edges.low + edges.high,
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
