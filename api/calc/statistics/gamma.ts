import { evaluateContinuedFraction } from './continued-fraction.ts';

const HALF_LOG_TWO_PI = 0.9189385332046727;

/**
 * What Stirling's formula leaves out: ln Γ(x) − [(x − ½) ln x − x + ½ ln 2π], for x ≥ 10.
 * Asymptotic series, NIST Digital Library of Mathematical Functions, 5.11.1. Kept apart because in the
 * ratios below the large terms cancel and only this remainder is left.
 */
export function stirlingRemainder(x: number): number {
  const squared = x * x;
  return (
    (1 / 12 -
      (1 / 360 -
        (1 / 1260 - (1 / 1680 - (1 / 1188 - 691 / 360360 / squared) / squared) / squared) / squared) /
        squared) /
    x
  );
}

/** ln Γ(x) for x > 0; NaN otherwise. Below 10 by the recurrence Γ(x) = Γ(x + n)/(x(x + 1)…(x + n − 1)). */
export function logGamma(x: number): number {
  if (!(x > 0)) return Number.NaN;
  let raised = x;
  let divisor = 1;
  for (; raised < 10; raised++) divisor *= raised;
  return (
    (raised - 0.5) * Math.log(raised) -
    raised +
    HALF_LOG_TWO_PI +
    stirlingRemainder(raised) -
    Math.log(divisor)
  );
}

/** ln B(a, b) for a, b > 0, without the cancellation of ln Γ(a) + ln Γ(b) − ln Γ(a + b) at large a or b. */
export function logBeta(a: number, b: number): number {
  const small = Math.min(a, b);
  const large = Math.max(a, b);
  if (large < 10) return logGamma(small) + logGamma(large) - logGamma(small + large);
  const whole = small + large;
  const remainder = stirlingRemainder(large) - stirlingRemainder(whole);
  if (small < 10) {
    return (
      logGamma(small) +
      remainder +
      small -
      small * Math.log(whole) +
      (large - 0.5) * Math.log1p(-small / whole)
    );
  }
  return (
    HALF_LOG_TWO_PI -
    0.5 * Math.log(large) +
    remainder +
    stirlingRemainder(small) +
    (small - 0.5) * Math.log(small / whole) +
    large * Math.log1p(-small / whole)
  );
}

/** ln [xᵃ e⁻ˣ / Γ(a + 1)]. */
function logPoissonTerm(a: number, x: number): number {
  if (a < 10) return a * Math.log(x) - x - logGamma(a + 1);
  const away = (x - a) / a;
  return a * (Math.log1p(away) - away) - HALF_LOG_TWO_PI - 0.5 * Math.log(a) - stirlingRemainder(a);
}

/**
 * Regularized incomplete gamma functions P(a, x) and Q(a, x) = 1 − P(a, x), a > 0, x ≥ 0; NaN outside.
 * Power series below x = a + 1 (NIST DLMF 8.11.4), continued fraction above (DLMF 8.9.2); whichever of
 * the two is the smaller is the one computed, so that neither tail loses figures.
 */
export function incompleteGamma(a: number, x: number): { lower: number; upper: number } {
  if (!(a > 0) || !(x >= 0)) return { lower: Number.NaN, upper: Number.NaN };
  if (x === 0) return { lower: 0, upper: 1 };
  if (x === Number.POSITIVE_INFINITY) return { lower: 1, upper: 0 };
  const front = Math.exp(logPoissonTerm(a, x));
  if (x < a + 1) {
    let term = 1;
    let total = 1;
    for (let n = 1; term > total * 1e-17; n++) {
      term *= x / (a + n);
      total += term;
    }
    const lower = front * total;
    return { lower, upper: 1 - lower };
  }
  const fraction = evaluateContinuedFraction({
    first: x + 1 - a,
    numerator: (n) => n * (a - n),
    denominator: (n) => x + 2 * n + 1 - a,
  });
  const upper = (front * a) / fraction;
  return { lower: 1 - upper, upper };
}
