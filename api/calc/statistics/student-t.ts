import { incompleteBeta } from './beta.ts';
import { normalCdf, normalQuantile } from './normal.ts';
import { findPositiveRoot } from './root.ts';

/** Probability above |t|, one tail. */
function upperTail(t: number, degreesOfFreedom: number): number {
  const squared = t * t;
  if (squared === Number.POSITIVE_INFINITY) return 0;
  const whole = degreesOfFreedom + squared;
  const { lower } = incompleteBeta({
    x: degreesOfFreedom / whole,
    oneMinusX: squared / whole,
    a: degreesOfFreedom / 2,
    b: 0.5,
  });
  return lower / 2;
}

/**
 * Probability that Student's t with the given degrees of freedom (> 0, not necessarily whole; ∞ is the
 * normal distribution) lies below t. NaN outside. NIST DLMF 8.17.
 */
export function studentTCdf({ t, degreesOfFreedom }: { t: number; degreesOfFreedom: number }): number {
  if (!(degreesOfFreedom > 0) || Number.isNaN(t)) return Number.NaN;
  if (degreesOfFreedom === Number.POSITIVE_INFINITY) return normalCdf(t);
  const tail = upperTail(t, degreesOfFreedom);
  return t < 0 ? tail : 1 - tail;
}

/** Probability that |T| exceeds |t|: the two-sided p of a t test. */
export function studentTTwoSidedP({ t, degreesOfFreedom }: { t: number; degreesOfFreedom: number }): number {
  return 2 * studentTCdf({ t: -Math.abs(t), degreesOfFreedom });
}

/** Quantile of Student's t: the t below which a share `probability` lies; ∓∞ at 0 and 1, NaN outside. */
export function studentTQuantile({
  probability,
  degreesOfFreedom,
}: {
  probability: number;
  degreesOfFreedom: number;
}): number {
  if (!(degreesOfFreedom > 0) || !(probability >= 0 && probability <= 1)) return Number.NaN;
  if (degreesOfFreedom === Number.POSITIVE_INFINITY) return normalQuantile(probability);
  if (probability === 0.5) return 0;
  const tail = Math.min(probability, 1 - probability);
  const t =
    tail === 0
      ? Number.POSITIVE_INFINITY
      : findPositiveRoot((x) => tail - upperTail(x, degreesOfFreedom), -normalQuantile(tail) || 1);
  return probability < 0.5 ? -t : t;
}
