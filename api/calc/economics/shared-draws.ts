import type { Metal } from '../evidence/lot-evidence.ts';
import { createRandom, triangularQuantileOf } from '../random.ts';
import { meanOfDraws } from '../statistics/draws.ts';
import type { EstimateDraws } from '../terms/draw-columns.ts';
import { estimateRoom } from '../terms/draw-columns.ts';
import type { Amount, DecideInput } from './options.ts';
import type { KeptPaths } from './price-draws.ts';
import { drawPriceFactors } from './price-draws.ts';

/**
 * The random columns of a decision, each drawn once and kept: common random
 * numbers for all options, and for all what-ifs that change no distribution of
 * price, seed or number of draws.
 */
export interface SharedDraws {
  drawCount: number;
  /** Gold and silver price after a number of days (rounded to whole days), as multiples of today's. */
  priceFactors: (horizonDays: number) => Record<Metal, Float64Array>;
  /** One of the `derived`, of a kind named by the last part of the stream. */
  amount: (amount: Amount, stream: string) => Float64Array;
  /** The mean of the same draws, which for another amount of the same shape needs no new draws. */
  amountMean: (amount: Amount, stream: string) => number;
  /** Lognormal factors of mean 1. */
  factor: (relativeSd: number, stream: string) => Float64Array;
  /**
   * So many columns worked from others, kept while they are worked from the very same columns and figures, and of a
   * kind only the last few that were asked for; then they are filled anew, so nobody may hold on to them.
   */
  derived: (
    kind: string,
    key: string,
    from: readonly (Float64Array | number)[],
    count: number,
    fill: (columns: Float64Array[]) => void,
  ) => Float64Array[];
  /** Room for a buyer's payments that are only looked at and not kept. */
  room: () => EstimateDraws;
}

/** Two options are compared at a time, so that of each kind the columns of two are at hand without being worked again. */
const KEPT_OF_A_KIND = 2;

type Triangular = Exclude<Amount, number>;

const sameAmount = (a: Triangular, b: Triangular) =>
  a.low === b.low && a.mode === b.mode && a.high === b.high;

/** Whether the most likely value lies at the same part of the range, so that the draws are the same but for place and width. */
function sameShape(a: Triangular, b: Triangular): boolean {
  const [partA, partB] = [a, b].map(({ low, mode, high }) => (mode - low) / (high - low)) as [number, number];
  return Math.abs(partA - partB) < 1e-12;
}

export function shareDraws({
  draws,
  prices,
  seed,
}: Pick<DecideInput, 'draws' | 'prices' | 'seed'>): SharedDraws {
  const { drawCount } = draws;
  const firstAmounts = new Map<string, { amount: Triangular; mean: number }>();
  const keptFactors = new Map<string, Float64Array>();
  const keptPrices = new Map<number, Record<Metal, Float64Array>>();
  const keptDerived = new Map<
    string,
    { key: string; from: readonly (Float64Array | number)[]; columns: Float64Array[] }[]
  >();
  const paths: KeptPaths = new Map();
  let room: EstimateDraws | null = null;
  const derived: SharedDraws['derived'] = (kind, key, from, count, fill) => {
    const kept = keptDerived.get(kind) ?? [];
    const known = kept.find((one) => one.key === key);
    const others = kept.filter((one) => one !== known);
    const oldest = known !== undefined || others.length < KEPT_OF_A_KIND ? undefined : others.shift();
    const columns =
      known?.columns ?? oldest?.columns ?? Array.from({ length: count }, () => new Float64Array(drawCount));
    if (known === undefined || known.from.some((one, place) => one !== from[place])) fill(columns);
    keptDerived.set(kind, [...others, { key, from, columns }]);
    return columns;
  };
  const drawAmount = (amount: Triangular, stream: string): Float64Array => {
    const kind = `amount/${stream.slice(stream.lastIndexOf('/') + 1)}`;
    const { low, mode, high } = amount;
    const [column] = derived(kind, stream, [low, mode, high], 1, ([values]) => {
      const { uniform } = createRandom(seed, stream);
      const quantile = triangularQuantileOf(amount);
      for (let n = 0; n < drawCount; n++) values![n] = quantile(uniform());
    });
    return column!;
  };
  /** The mean of the first amount of a stream is kept: what-ifs come back to it. */
  const firstAmount = (amount: Triangular, stream: string) => {
    let first = firstAmounts.get(stream);
    if (first === undefined) {
      first = { amount, mean: meanOfDraws(drawAmount(amount, stream)) };
      firstAmounts.set(stream, first);
    }
    return first;
  };
  return {
    drawCount,
    priceFactors: (horizonDays) => {
      const day = Math.round(horizonDays);
      const factors = keptPrices.get(day) ?? drawPriceFactors(prices, day, drawCount, seed, paths);
      keptPrices.set(day, factors);
      return factors;
    },
    amount: (amount, stream) => {
      if (typeof amount === 'number') return new Float64Array(drawCount).fill(amount);
      return drawAmount(amount, stream);
    },
    amountMean: (amount, stream) => {
      if (typeof amount === 'number') return amount;
      const { low, mode, high } = amount;
      if (!(high > low)) return mode;
      const first = firstAmount(amount, stream);
      const { low: firstLow, high: firstHigh } = first.amount;
      if (sameAmount(first.amount, amount)) return first.mean;
      if (!(firstHigh > firstLow) || !sameShape(first.amount, amount))
        return meanOfDraws(drawAmount(amount, stream));
      return low + ((first.mean - firstLow) * (high - low)) / (firstHigh - firstLow);
    },
    factor: (relativeSd, stream) => {
      const key = `${stream} ${relativeSd}`;
      const known = keptFactors.get(key);
      if (known !== undefined) return known;
      const { normal } = createRandom(seed, stream);
      const shift = -0.5 * relativeSd * relativeSd;
      const column = new Float64Array(drawCount);
      for (let n = 0; n < drawCount; n++) column[n] = Math.exp(relativeSd * normal() + shift);
      keptFactors.set(key, column);
      return column;
    },
    derived,
    room: () => (room ??= estimateRoom(drawCount)),
  };
}
