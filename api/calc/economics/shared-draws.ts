import type { Metal } from '../evidence/lot-evidence.ts';
import { createRandom, triangularQuantile } from '../random.ts';
import type { Amount, DecideInput } from './options.ts';
import { drawPriceFactors } from './price-draws.ts';

/**
 * The random columns of a decision, each drawn once and kept: common random
 * numbers for all options, and for all what-ifs that change no distribution of
 * price, seed or number of draws.
 */
export interface SharedDraws {
  /** Gold and silver price after a number of days (rounded to whole days), as multiples of today's. */
  priceFactors: (horizonDays: number) => Record<Metal, Float64Array>;
  amount: (amount: Amount, stream: string) => Float64Array;
  /** Lognormal factors of mean 1. */
  factor: (relativeSd: number, stream: string) => Float64Array;
}

export function shareDraws({
  draws,
  prices,
  seed,
}: Pick<DecideInput, 'draws' | 'prices' | 'seed'>): SharedDraws {
  const { drawCount } = draws;
  const kept = new Map<string, Float64Array>();
  const keptPrices = new Map<number, Record<Metal, Float64Array>>();
  const column = (key: string, stream: string, draw: (stream: ReturnType<typeof createRandom>) => number) => {
    let values = kept.get(key);
    if (values === undefined) {
      values = new Float64Array(drawCount);
      const random = createRandom(seed, stream);
      for (let n = 0; n < drawCount; n++) values[n] = draw(random);
      kept.set(key, values);
    }
    return values;
  };
  return {
    priceFactors: (horizonDays) => {
      const day = Math.round(horizonDays);
      const factors = keptPrices.get(day) ?? drawPriceFactors(prices, day, drawCount, seed);
      keptPrices.set(day, factors);
      return factors;
    },
    amount: (amount, stream) => {
      if (typeof amount === 'number' || amount.low === amount.high) {
        return new Float64Array(drawCount).fill(typeof amount === 'number' ? amount : amount.mode);
      }
      const key = `${stream} ${amount.low} ${amount.mode} ${amount.high}`;
      return column(key, stream, ({ uniform }) => triangularQuantile(amount, uniform()));
    },
    factor: (relativeSd, stream) => {
      if (relativeSd === 0) return new Float64Array(drawCount).fill(1);
      const shift = -0.5 * relativeSd * relativeSd;
      return column(`${stream} ${relativeSd}`, stream, ({ normal }) =>
        Math.exp(relativeSd * normal() + shift),
      );
    },
  };
}
