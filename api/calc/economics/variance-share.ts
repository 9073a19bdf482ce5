import { intoBuckets } from '../evidence/ranked.ts';
import { quantiles } from '../evidence/summary.ts';

const MOST_BINS = 64;
const DRAWS_PER_BIN = 50;

/**
 * Share of the variance of `outcome` that knowing `input` exactly would take away,
 * Var(E[outcome | input]) / Var(outcome), as a fraction: the first-order index of
 * I. M. Sobol (Math. Comput. Simul. 55, 2001), from the draws at hand. Null where either does not vary.
 *
 * The draws are sorted into bins of equal count by `input`; the variance between
 * bins beyond what the spread within them explains is (MSB − MSW)/m of the
 * one-way analysis of variance, so that an input without effect gets about zero
 * (small negative estimates are returned as 0). Where inputs are correlated the shares of several overlap and
 * need not sum to one.
 */
export function varianceShare(outcome: Float64Array, input: Float64Array): number | null {
  const count = outcome.length;
  const bins = Math.min(MOST_BINS, Math.floor(count / DRAWS_PER_BIN));
  if (bins < 2) return null;
  const parted = intoBuckets(input);
  const edges = quantiles(
    input,
    Array.from({ length: bins - 1 }, (_, b) => (b + 1) / bins),
    parted,
  );
  // A value belongs to the first bin whose upper edge it does not exceed; its bucket tells where to begin.
  const firstBin = new Uint8Array(parted === null ? 1 : parted.before.length);
  if (parted !== null) {
    for (const edge of edges) firstBin[parted.bucketOf(edge) + 1]!++;
    for (let bucket = 1; bucket < firstBin.length; bucket++) firstBin[bucket]! += firstBin[bucket - 1]!;
  }
  const sums = new Float64Array(bins);
  const counts = new Float64Array(bins);
  let mean = 0;
  for (let n = 0; n < count; n++) mean += outcome[n]!;
  mean /= count;
  let total = 0;
  for (let n = 0; n < count; n++) {
    const value = input[n]!;
    let bin = parted === null ? 0 : firstBin[parted.indexOf[n]!]!;
    while (bin < bins - 1 && value > edges[bin]!) bin++;
    const deviation = outcome[n]! - mean;
    sums[bin]! += deviation;
    counts[bin]!++;
    total += deviation * deviation;
  }
  let between = 0;
  let filled = 0;
  let squares = 0;
  for (let bin = 0; bin < bins; bin++) {
    if (counts[bin] === 0) continue;
    filled++;
    squares += counts[bin]! * counts[bin]!;
    between += (sums[bin]! * sums[bin]!) / counts[bin]!;
  }
  if (filled < 2 || !(total > 1e-20 * count * mean * mean)) return null;
  const within = (total - between) / (count - filled);
  const perBin = (count - squares / count) / (filled - 1);
  const component = (between / (filled - 1) - within) / perBin;
  return Math.min(1, Math.max(0, (component * count) / total));
}
