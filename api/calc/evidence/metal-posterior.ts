import type { Random } from '../random.ts';
import type { MetalModel, ReplicateRow } from './posterior-grid.ts';
import { posteriorRows } from './posterior-grid.ts';
import type { RecoveryPrior } from './recovery-prior.ts';

/** How finely the probabilities were integrated, to be shown beside the result. */
export interface Quadrature {
  /** Pairs of replicate sd and grade. */
  points: number;
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

/** A cell of the posterior: a grade point of a replicate sd; and the draws that fell into it. */
interface DrawnCell {
  row: ReplicateRow;
  point: number;
  draws: Int32Array;
}

/** Draws of a treatment's recovery, given the cell of replicate sd and grade that each draw fell into. */
function drawRecoveries(t: number, drawnCells: DrawnCell[], drawCount: number, random: Random): Float64Array {
  const recoveryFrac = new Float64Array(drawCount);
  let cumulative = new Float64Array(0);
  for (const { row, point, draws } of drawnCells) {
    const { step } = row.grid;
    const { topLog, cellWidth, massFrac } = row.grid.cells[t]!;
    const { likelihood, windowStart, windowEnd } = row.grid.smeltLikelihoods[t]!;
    if (cumulative.length < massFrac.length) cumulative = new Float64Array(massFrac.length);
    const lowest = point + massFrac.length - 1;
    const first = Math.max(0, lowest - windowEnd + 1);
    const last = Math.min(massFrac.length - 1, lowest - windowStart);
    let total = 0;
    for (let k = first; k <= last; k++) {
      total += massFrac[k]! * likelihood[lowest - k]!;
      cumulative[k] = total;
    }
    for (let n = 0; n < draws.length; n++) {
      const k = indexAbove(cumulative, random.uniform() * total, first, last + 1);
      recoveryFrac[draws[n]!] = Math.exp(topLog - k * step + (random.uniform() - 0.5) * cellWidth);
    }
  }
  return recoveryFrac;
}

/** Draws cells by the inverse of their distribution, and gathers the draws of each cell. */
function drawCells(rows: ReplicateRow[], drawCount: number, random: Random): DrawnCell[] {
  const points = rows.reduce((sum, { grid }) => sum + grid.points, 0);
  const cumulative = new Float64Array(points);
  let total = 0;
  let next = 0;
  for (const { grid, massFrac } of rows) {
    for (let j = 0; j < grid.points; j++) cumulative[next++] = total += massFrac * grid.massFrac[j]!;
  }
  const cellOfDraw = new Int32Array(drawCount);
  const starts = new Int32Array(points + 1);
  for (let n = 0; n < drawCount; n++) {
    const cell = indexAbove(cumulative, random.uniform() * total, 0, points);
    cellOfDraw[n] = cell;
    starts[cell + 1]!++;
  }
  for (let cell = 0; cell < points; cell++) starts[cell + 1]! += starts[cell]!;
  const order = new Int32Array(drawCount);
  const filled = starts.slice();
  for (let n = 0; n < drawCount; n++) order[filled[cellOfDraw[n]!]!++] = n;
  const drawnCells: DrawnCell[] = [];
  let cell = 0;
  for (const row of rows) {
    for (let point = 0; point < row.grid.points; point++, cell++) {
      const draws = order.subarray(starts[cell], starts[cell + 1]);
      if (draws.length > 0) drawnCells.push({ row, point, draws });
    }
  }
  return drawnCells;
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
 * is summed on a grid (`posteriorRows`), drawn by the inverse of its
 * distribution, then each recovery given both, evenly within its cell. No Markov
 * chain, so no convergence to judge. Null where the results contradict each
 * other beyond any probability.
 */
export function drawMetal(model: MetalModel, drawCount: number, random: Random): MetalDraws | null {
  const rows = posteriorRows(model);
  if (rows.length === 0) return null;
  const drawnCells = drawCells(rows, drawCount, random);
  const gradeGpt = new Float64Array(drawCount);
  const replicateSdFrac = new Float64Array(drawCount);
  for (const { row, point, draws } of drawnCells) {
    const { firstLog, step } = row.grid;
    for (const n of draws) {
      gradeGpt[n] = Math.exp(firstLog + (point + random.uniform() - 0.5) * step);
      replicateSdFrac[n] = row.sdFrac * Math.exp((random.uniform() - 0.5) * row.widthLog);
    }
  }
  return {
    gradeGpt,
    replicateSdFrac,
    recoveryFrac: model.treatments.map((_, t) => drawRecoveries(t, drawnCells, drawCount, random)),
    quadrature: {
      points: rows.reduce((sum, { grid }) => sum + grid.points, 0),
      replicateSdPoints: rows.length,
      edgeMassFrac: rows.reduce(
        (sum, { massFrac, grid }) => sum + massFrac * (grid.massFrac[0]! + grid.massFrac[grid.points - 1]!),
        0,
      ),
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
