/** Arithmetic mean. NaN for no values. The second pass takes out the rounding of the first. */
export function mean(values: readonly number[]): number {
  const first = values.reduce((total, value) => total + value, 0) / values.length;
  return first + values.reduce((total, value) => total + (value - first), 0) / values.length;
}

/** Sum of squared deviations from the mean, Σ(x − x̄)². */
export function sumOfSquaredDeviations(values: readonly number[]): number {
  const centre = mean(values);
  return values.reduce((total, value) => total + (value - centre) ** 2, 0);
}

/**
 * Experimental standard deviation, s² = Σ(x − x̄)²/(n − 1), in the unit of the values (JCGM 100:2008,
 * clause 4.2.2, eq. 4). NaN for fewer than two values: one value says nothing about spread.
 */
export function standardDeviation(values: readonly number[]): number {
  return values.length < 2 ? Number.NaN : Math.sqrt(sumOfSquaredDeviations(values) / (values.length - 1));
}
