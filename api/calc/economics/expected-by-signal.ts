import { normalQuantile } from '../statistics/normal.ts';

const HIGHEST_DEGREE = 3;
const RIDGE = 1e-8;

/** Ranks turned into standard normal scores, ties sharing their middle rank: (rank − ½)/n through the normal quantile. */
function normalScores(values: Float64Array): Float64Array {
  const sorted = values.toSorted();
  const scores = new Float64Array(values.length);
  const first = (value: number, inclusive: boolean) => {
    let low = 0;
    let high = sorted.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (sorted[middle]! < value || (inclusive && sorted[middle]! === value)) low = middle + 1;
      else high = middle;
    }
    return low;
  };
  for (let n = 0; n < values.length; n++) {
    const middleRank = (first(values[n]!, false) + first(values[n]!, true)) / 2;
    scores[n] = normalQuantile(middleRank / values.length);
  }
  return scores;
}

/** Exponents of all monomials of so many variables up to the highest degree, the constant first. */
function exponents(variables: number): number[][] {
  let rows: number[][] = [[]];
  for (let v = 0; v < variables; v++) {
    rows = rows.flatMap((row) => {
      const used = row.reduce((sum, power) => sum + power, 0);
      return Array.from({ length: HIGHEST_DEGREE - used + 1 }, (_, power) => [...row, power]);
    });
  }
  return rows;
}

/** Hermite polynomials of the scores, orthonormal for a standard normal: 1, x, (x² − 1)/√2, (x³ − 3x)/√6. */
function hermite(x: number, degree: number): number {
  if (degree === 0) return 1;
  if (degree === 1) return x;
  return degree === 2 ? (x * x - 1) / Math.SQRT2 : (x * x * x - 3 * x) / Math.sqrt(6);
}

/** Solves the symmetric positive definite system A x = b in place, by Cholesky's method. */
function solve(matrix: Float64Array, right: Float64Array): void {
  const size = right.length;
  for (let i = 0; i < size; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = matrix[i * size + j]!;
      for (let k = 0; k < j; k++) sum -= matrix[i * size + k]! * matrix[j * size + k]!;
      matrix[i * size + j] = i === j ? Math.sqrt(sum) : sum / matrix[j * size + j]!;
    }
  }
  for (let i = 0; i < size; i++) {
    let sum = right[i]!;
    for (let k = 0; k < i; k++) sum -= matrix[i * size + k]! * right[k]!;
    right[i] = sum / matrix[i * size + i]!;
  }
  for (let i = size - 1; i >= 0; i--) {
    let sum = right[i]!;
    for (let k = i + 1; k < size; k++) sum -= matrix[k * size + i]! * right[k]!;
    right[i] = sum / matrix[i * size + i]!;
  }
}

/**
 * Expected value of each outcome given the signals, for every draw: least squares
 * on polynomials of degree 3 in the normal scores of the signals. Each half of the
 * draws (even, odd) is predicted from a fit to the other half, so that no draw
 * has a say in its own prediction. Signals that do not vary are left out.
 */
export function expectedBySignal(outcomes: Float64Array[], signals: Float64Array[]): Float64Array[] {
  const count = outcomes[0]?.length ?? 0;
  const scores = signals.filter((signal) => signal.some((value) => value !== signal[0])).map(normalScores);
  const terms = exponents(scores.length);
  const size = terms.length;
  const basis = new Float64Array(count * size);
  const powers = scores.map((score) => {
    const table = new Float64Array(count * (HIGHEST_DEGREE + 1));
    for (let n = 0; n < count; n++) {
      for (let d = 0; d <= HIGHEST_DEGREE; d++) table[n * (HIGHEST_DEGREE + 1) + d] = hermite(score[n]!, d);
    }
    return table;
  });
  for (let n = 0; n < count; n++) {
    for (const [i, term] of terms.entries()) {
      let product = 1;
      for (let v = 0; v < term.length; v++) product *= powers[v]![n * (HIGHEST_DEGREE + 1) + term[v]!]!;
      basis[n * size + i] = product;
    }
  }
  const predicted = outcomes.map(() => new Float64Array(count));
  for (const half of [0, 1]) {
    const matrix = new Float64Array(size * size);
    const rights = outcomes.map(() => new Float64Array(size));
    for (let n = 1 - half; n < count; n += 2) {
      for (let i = 0; i < size; i++) {
        const value = basis[n * size + i]!;
        for (let j = 0; j <= i; j++) matrix[i * size + j]! += value * basis[n * size + j]!;
        for (let o = 0; o < outcomes.length; o++) rights[o]![i]! += value * outcomes[o]![n]!;
      }
    }
    for (let i = 0; i < size; i++) matrix[i * size + i]! += RIDGE * count;
    for (const [o, right] of rights.entries()) {
      solve(matrix.slice(), right);
      for (let n = half; n < count; n += 2) {
        let sum = 0;
        for (let i = 0; i < size; i++) sum += basis[n * size + i]! * right[i]!;
        predicted[o]![n] = sum;
      }
    }
  }
  return predicted;
}
