/** A value with its standard uncertainty u (GUM, JCGM 100:2008), both in the unit the field's name states. */
export interface Measured {
  value: number;
  u: number;
}

/*
 * Arithmetic on measured values that have no error in common: the law of propagation of uncertainty,
 * JCGM 100:2008 clause 5.1.2, eq. (10), to first order. Values that share a weighing or a blank are
 * correlated; they are worked with `assay/traced.ts`, which keeps account of each source.
 */

/** A value taken as known exactly: u = 0. */
export function exactly(value: number): Measured {
  return { value, u: 0 };
}

/** Sum of independent measured values: u² = Σ uᵢ². The sum of none is 0 ± 0. */
export function sum(...terms: Measured[]): Measured {
  return {
    value: terms.reduce((total, term) => total + term.value, 0),
    u: Math.hypot(...terms.map((term) => term.u)),
  };
}

/** a − b: u² = u(a)² + u(b)². */
export function difference(a: Measured, b: Measured): Measured {
  return { value: a.value - b.value, u: Math.hypot(a.u, b.u) };
}

/** a × b: u² = (b·u(a))² + (a·u(b))². To first order: where both values are 0, u is 0. */
export function product(a: Measured, b: Measured): Measured {
  return { value: a.value * b.value, u: Math.hypot(b.value * a.u, a.value * b.u) };
}

/**
 * a ÷ b: u² = (u(a)/b)² + (a·u(b)/b²)². To first order, so good where u(b) is small beside b; a zero
 * divisor gives a value that is not finite, which the caller has to refuse beforehand.
 */
export function quotient(a: Measured, b: Measured): Measured {
  const value = a.value / b.value;
  return { value, u: Math.hypot(a.u / b.value, (value * b.u) / b.value) };
}

/** factor × a with a factor known exactly: u = |factor|·u(a). */
export function scale(a: Measured, factor: number): Measured {
  return { value: a.value * factor, u: Math.abs(factor) * a.u };
}
