/** Stands in for a zero denominator, far below anything that matters. */
const NEARLY_ZERO = 1e-300;

/**
 * Value of first + a₁/(b₁ + a₂/(b₂ + …)) by W. J. Lentz's method as modified by I. J. Thompson and
 * A. R. Barnett (J. Comput. Phys. 64, 1986, 490), to the last figures of a double. The fractions used here
 * converge within some √(size of the parameters) steps; NaN if one has not after 100,000.
 */
export function evaluateContinuedFraction({
  first,
  numerator,
  denominator,
}: {
  first: number;
  numerator: (n: number) => number;
  denominator: (n: number) => number;
}): number {
  let value = first === 0 ? NEARLY_ZERO : first;
  let c = value;
  let d = 0;
  for (let n = 1; n <= 100_000; n++) {
    const a = numerator(n);
    const b = denominator(n);
    d = b + a * d;
    d = 1 / (d === 0 ? NEARLY_ZERO : d);
    c = b + a / c;
    if (c === 0) c = NEARLY_ZERO;
    const step = c * d;
    value *= step;
    if (Math.abs(step - 1) < 2.5e-16) return value;
  }
  return Number.NaN;
}
