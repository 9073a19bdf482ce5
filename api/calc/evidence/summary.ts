import { meanOfDraws } from '../statistics/draws.ts';
import type { Buckets } from './ranked.ts';
import { ranked } from './ranked.ts';

/** Mean, standard deviation and the 10, 50 and 90 % quantiles of a quantity, all in its own unit. */
export interface Summary {
  mean: number;
  sd: number;
  p10: number;
  p50: number;
  p90: number;
}

/**
 * Quantiles by linear interpolation between order statistics at (n − 1) p (definition 7 of
 * R. J. Hyndman, Y. Fan, *Sample quantiles in statistical packages*, The American Statistician 50, 1996).
 * NaN for no values.
 */
export function quantiles(
  values: Float64Array,
  probabilities: readonly number[],
  parted?: Buckets | null,
): number[] {
  if (values.length === 0) return probabilities.map(() => NaN);
  const last = values.length - 1;
  const positions = probabilities.map((p) => p * last);
  const found = ranked(
    values,
    positions.flatMap((position) => [Math.floor(position), Math.min(last, Math.floor(position) + 1)]),
    parted,
  );
  return positions.map((position, i) => {
    const [lower, upper] = [found[2 * i]!, found[2 * i + 1]!];
    const part = position - Math.floor(position);
    return part === 0 ? lower : lower + part * (upper - lower);
  });
}

/** Summary of draws; the standard deviation has n − 1 below it and is 0 for a single draw. */
export function summarize(values: Float64Array): Summary {
  const mean = meanOfDraws(values);
  let squares = 0;
  for (let i = 0; i < values.length; i++) {
    const deviation = values[i]! - mean;
    squares += deviation * deviation;
  }
  const [p10, p50, p90] = quantiles(values, [0.1, 0.5, 0.9]) as [number, number, number];
  return { mean, sd: values.length > 1 ? Math.sqrt(squares / (values.length - 1)) : 0, p10, p50, p90 };
}
