import { evaluateContinuedFraction } from './continued-fraction.ts';
import { logBeta } from './gamma.ts';

/**
 * Regularized incomplete beta function I_x(a, b) and its complement, a, b > 0, 0 ≤ x ≤ 1; NaN outside.
 * Continued fraction NIST DLMF 8.17.22, on whichever side of (a + 1)/(a + b + 2) converges. The caller
 * gives 1 − x as well, because near x = 1 it often knows it to more figures than the subtraction leaves.
 */
export function incompleteBeta({
  x,
  oneMinusX,
  a,
  b,
}: {
  x: number;
  oneMinusX: number;
  a: number;
  b: number;
}): { lower: number; upper: number } {
  if (!(a > 0) || !(b > 0) || !(x >= 0) || !(oneMinusX >= 0)) return { lower: Number.NaN, upper: Number.NaN };
  if (x === 0) return { lower: 0, upper: 1 };
  if (oneMinusX === 0) return { lower: 1, upper: 0 };
  if (x > (a + 1) / (a + b + 2)) {
    const mirrored = incompleteBeta({ x: oneMinusX, oneMinusX: x, a: b, b: a });
    return { lower: mirrored.upper, upper: mirrored.lower };
  }
  const logX = x > 0.5 ? Math.log1p(-oneMinusX) : Math.log(x);
  const logOneMinusX = x > 0.5 ? Math.log(oneMinusX) : Math.log1p(-x);
  const front = Math.exp(a * logX + b * logOneMinusX - logBeta(a, b)) / a;
  const fraction = evaluateContinuedFraction({
    first: 1,
    numerator: (n) => {
      const m = Math.floor(n / 2);
      return n % 2 === 0
        ? (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m))
        : (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    },
    denominator: () => 1,
  });
  const lower = front / fraction;
  return { lower, upper: 1 - lower };
}
