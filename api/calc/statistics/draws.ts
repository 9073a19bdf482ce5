/** Sum of a column of draws, in four partial sums that do not wait for each other. */
export function sumOfDraws(values: Float64Array): number {
  const whole = values.length & ~3;
  let [a, b, c, d] = [0, 0, 0, 0];
  for (let n = 0; n < whole; n += 4) {
    a += values[n]!;
    b += values[n + 1]!;
    c += values[n + 2]!;
    d += values[n + 3]!;
  }
  let sum = a + b + (c + d);
  for (let n = whole; n < values.length; n++) sum += values[n]!;
  return sum;
}

/** Mean of a column of draws; NaN for none. */
export function meanOfDraws(values: Float64Array): number {
  return sumOfDraws(values) / values.length;
}
