/**
 * Root of a function that changes sign between `low` and `high`, by R. P. Brent's method (*Algorithms for
 * Minimization without Derivatives*, 1973, ch. 4), to the last figures of a double. NaN if the signs at the
 * two ends are the same.
 */
export function findRoot(f: (x: number) => number, { low, high }: { low: number; high: number }): number {
  let a = low;
  let b = high;
  let fa = f(a);
  let fb = f(b);
  if (fa === 0) return a;
  if (fb === 0) return b;
  if (!(fa * fb < 0)) return Number.NaN;
  let c = a;
  let fc = fa;
  let step = b - a;
  let before = step;
  for (let i = 0; i < 500; i++) {
    if (fb * fc > 0) {
      c = a;
      fc = fa;
      step = b - a;
      before = step;
    }
    if (Math.abs(fc) < Math.abs(fb)) {
      [a, b, c] = [b, c, b];
      [fa, fb, fc] = [fb, fc, fb];
    }
    const tolerance = 2 * Number.EPSILON * Math.abs(b) + Number.MIN_VALUE;
    const half = (c - b) / 2;
    if (Math.abs(half) <= tolerance || fb === 0) return b;
    if (Math.abs(before) < tolerance || Math.abs(fa) <= Math.abs(fb)) {
      step = half;
      before = half;
    } else {
      const s = fb / fa;
      let p: number;
      let q: number;
      if (a === c) {
        p = 2 * half * s;
        q = 1 - s;
      } else {
        const r = fb / fc;
        const t = fa / fc;
        p = s * (2 * half * t * (t - r) - (b - a) * (r - 1));
        q = (t - 1) * (r - 1) * (s - 1);
      }
      if (p > 0) q = -q;
      p = Math.abs(p);
      if (2 * p < Math.min(3 * half * q - Math.abs(tolerance * q), Math.abs(before * q))) {
        before = step;
        step = p / q;
      } else {
        step = half;
        before = half;
      }
    }
    a = b;
    fa = fb;
    b += Math.abs(step) > tolerance ? step : Math.sign(half) * tolerance;
    fb = f(b);
  }
  return b;
}

/** Doubles `start` until f changes sign, then finds the root there: for f on (0, ∞) with f(0⁺) < 0 < f(∞). */
export function findPositiveRoot(f: (x: number) => number, start: number): number {
  let low = start;
  let high = start;
  while (f(low) > 0 && low > 1e-300) low /= 4;
  while (f(high) < 0 && high < 1e300) high *= 4;
  return low === high ? low : findRoot(f, { low, high });
}
