import type { Finding } from '../finding.ts';
import { createRandom } from '../random.ts';
import { addLogLikelihood } from './likelihood.ts';
import type { LotDraws, MetalObservation } from './lot-evidence.ts';

/** Fewer draws than this share that still count, and the beads and the rest do not speak of the same lot. */
const LEAST_EFFECTIVE_FRAC = 0.005;

/** ln density of the unparted beads for each joint draw. */
function logLikelihoods(draws: LotDraws, unparted: readonly MetalObservation[]): Float64Array {
  const total = new Float64Array(draws.drawCount);
  const { gradeGpt, replicateSdFrac } = draws;
  const one = new Float64Array(1);
  for (const [treatmentId, recovery] of Object.entries(draws.recoveryFrac)) {
    const beads = unparted
      .filter((bead) => bead.treatmentId === treatmentId)
      .map((bead) => ({ value: bead.gradeGpt, u: bead.uGpt }));
    if (beads.length === 0) continue;
    for (let n = 0; n < draws.drawCount; n++) {
      const gold = gradeGpt.Au[n]! * recovery.Au[n]!;
      const silver = gradeGpt.Ag[n]! * recovery.Ag[n]!;
      // As if gold and silver scattered together: the widest that their sum can.
      const sd = (gold * replicateSdFrac.Au[n]! + silver * replicateSdFrac.Ag[n]!) / (gold + silver);
      one[0] = 0;
      addLogLikelihood(one, beads, { firstLog: Math.log(gold + silver), step: 0 }, sd);
      total[n]! += one[0];
    }
  }
  return total;
}

/** Places of the draws to keep, each as often as its weight asks, in order. */
function resampled(weights: Float64Array, total: number, offset: number): Int32Array {
  const places = new Int32Array(weights.length);
  let place = 0;
  let passed = weights[0]!;
  for (let n = 0; n < places.length; n++) {
    const target = ((n + offset) / places.length) * total;
    while (passed < target && place < weights.length - 1) passed += weights[++place]!;
    places[n] = place;
  }
  return places;
}

function taken(draws: LotDraws, places: Int32Array): LotDraws {
  const at = (values: Float64Array): Float64Array => Float64Array.from(places, (place) => values[place]!);
  const both = (pair: LotDraws['gradeGpt']): LotDraws['gradeGpt'] => ({ Au: at(pair.Au), Ag: at(pair.Ag) });
  return {
    ...draws,
    gradeGpt: both(draws.gradeGpt),
    replicateSdFrac: both(draws.replicateSdFrac),
    recoveryFrac: Object.fromEntries(
      Object.entries(draws.recoveryFrac).map(([id, recovery]) => [id, both(recovery)]),
    ),
  };
}

/**
 * Joint draws that have also heard beads which were weighed but not parted, g/t of gold and silver together.
 *
 * A bead sees grade × recovery of gold plus that of silver, with its own u and a relative scatter (`addLogLikelihood`)
 * of both metals together. Each joint draw of gold and silver is weighted by how likely it makes the beads, and the
 * draws are drawn again by their weights: D. B. Rubin's sampling/importance resampling (A. F. M. Smith,
 * A. E. Gelfand, *Bayesian statistics without tears*, The American Statistician 46, 1992, 84), systematically, from a
 * seeded start. No split of a bead is guessed: parted beads and assays, which the draws know already, say which share
 * is gold. `effectiveDraws` = (Σw)²/Σw², how many independent draws the weighted ones are worth (A. Kong, J. S. Liu,
 * W. H. Wong, J. Am. Stat. Assoc. 89, 1994, 278). Null where next to none of the draws allows the beads.
 */
export function drawsWithUnparted(
  draws: LotDraws,
  unparted: readonly MetalObservation[],
): { draws: LotDraws; effectiveDraws: number } | null {
  const logs = logLikelihoods(draws, unparted);
  const highest = logs.reduce((high, log) => Math.max(high, log), Number.NEGATIVE_INFINITY);
  if (!Number.isFinite(highest)) return null;
  const weights = logs.map((log) => Math.exp(log - highest));
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  const squares = weights.reduce((sum, weight) => sum + weight * weight, 0);
  const effectiveDraws = (total * total) / squares;
  if (effectiveDraws < LEAST_EFFECTIVE_FRAC * draws.drawCount) return null;
  const offset = createRandom(draws.seed, 'unparted').uniform();
  return { draws: taken(draws, resampled(weights, total, offset)), effectiveDraws };
}

/** What became of the beads that were not parted. */
export function unpartedFindings(
  unparted: readonly MetalObservation[],
  use: 'counted' | 'contradicts' | 'share not known',
): Finding[] {
  if (unparted.length === 0) return [];
  const one = unparted.length === 1;
  const beads = one ? 'One bead was' : `${unparted.length} beads were`;
  const say = (code: string, level: Finding['level'], rest: string): Finding[] => [
    { code, level, path: '/unparted', sentence: `${beads} weighed but not parted${rest}` },
  ];
  switch (use) {
    case 'counted':
      return say(
        'unparted-counted',
        'note',
        `: ${one ? 'it counts' : 'they count'} here by gold and silver together, and the parted beads and assays of the lot say which share is gold.`,
      );
    case 'contradicts':
      return say(
        'unparted-contradicts',
        'warning',
        `, and ${one ? 'it does' : 'they do'} not go with the parted beads and assays of the lot: ${one ? 'it is' : 'they are'} left out here. Look for a wrong mass, unit or lot.`,
      );
    case 'share not known':
      return say(
        'unparted-not-used',
        'warning',
        ', and nothing says yet how much of gold and silver together is gold: part one bead, or have the lot assayed for both.',
      );
  }
}
