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
  const keptUniforms = new Map<string, Float64Array>();
  const keptFactors = new Map<string, Float64Array>();
  const keptPrices = new Map<number, Record<Metal, Float64Array>>();
  const kept = (columns: Map<string, Float64Array>, key: string, fill: (values: Float64Array) => void) => {
    let values = columns.get(key);
    if (values === undefined) {
      values = new Float64Array(drawCount);
      fill(values);
      columns.set(key, values);
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
      const values = new Float64Array(drawCount);
      if (typeof amount === 'number') return values.fill(amount);
      const uniforms = kept(keptUniforms, stream, (column) => {
        const { uniform } = createRandom(seed, stream);
        for (let n = 0; n < drawCount; n++) column[n] = uniform();
      });
      for (let n = 0; n < drawCount; n++) values[n] = triangularQuantile(amount, uniforms[n]!);
      return values;
    },
    factor: (relativeSd, stream) =>
      kept(keptFactors, `${stream} ${relativeSd}`, (column) => {
        const { normal } = createRandom(seed, stream);
        const shift = -0.5 * relativeSd * relativeSd;
        for (let n = 0; n < drawCount; n++) column[n] = Math.exp(relativeSd * normal() + shift);
      }),
  };
}
