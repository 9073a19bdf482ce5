/** Mean, standard deviation and the 10, 50 and 90 % quantiles of a quantity, all in its own unit. */
export interface Summary {
  mean: number;
  sd: number;
  p10: number;
  p50: number;
  p90: number;
}

/** Moves the k-th smallest of values[left..right] to index k, smaller ones before it. Source: C. A. R. Hoare, *Algorithm 65: Find*, CACM 4 (1961). */
function select(values: Float64Array, k: number, from: number): void {
  let left = from;
  let right = values.length - 1;
  while (left < right) {
    const a = values[left]!;
    const b = values[(left + right) >> 1]!;
    const c = values[right]!;
    const pivot = Math.max(Math.min(a, b), Math.min(Math.max(a, b), c));
    let i = left;
    let j = right;
    while (i <= j) {
      while (values[i]! < pivot) i++;
      while (values[j]! > pivot) j--;
      if (i <= j) {
        const held = values[i]!;
        values[i] = values[j]!;
        values[j] = held;
        i++;
        j--;
      }
    }
    if (k <= j) right = j;
    else if (k >= i) left = i;
    else return;
  }
}

/**
 * Quantiles by linear interpolation between order statistics at (n − 1) p (definition 7 of
 * R. J. Hyndman, Y. Fan, *Sample quantiles in statistical packages*, The American Statistician 50, 1996).
 * `probabilities` must ascend. NaN for no values.
 */
export function quantiles(values: Float64Array, probabilities: readonly number[]): number[] {
  const work = values.slice();
  let from = 0;
  return probabilities.map((p) => {
    if (work.length === 0) return NaN;
    const position = p * (work.length - 1);
    const below = Math.floor(position);
    select(work, below, from);
    from = below;
    const lower = work[below]!;
    if (position === below) return lower;
    let upper = Infinity;
    for (let i = below + 1; i < work.length; i++) if (work[i]! < upper) upper = work[i]!;
    return lower + (position - below) * (upper - lower);
  });
}

/** Summary of draws; the standard deviation has n − 1 below it and is 0 for a single draw. */
export function summarize(values: Float64Array): Summary {
  let mean = 0;
  for (let i = 0; i < values.length; i++) mean += values[i]!;
  mean /= values.length;
  let squares = 0;
  for (let i = 0; i < values.length; i++) squares += (values[i]! - mean) ** 2;
  const [p10, p50, p90] = quantiles(values, [0.1, 0.5, 0.9]) as [number, number, number];
  return { mean, sd: values.length > 1 ? Math.sqrt(squares / (values.length - 1)) : 0, p10, p50, p90 };
}
