/**
 * Effective degrees of freedom of a sum of independent variances, each resting on its own number of degrees of
 * freedom (∞ for one that is known): Welch–Satterthwaite, ν = (Σ u²)²/Σ(u⁴/ν). JCGM 100:2008, G.4.1, eq. G.2b.
 * ∞ where every part is known.
 */
export function effectiveDegreesOfFreedom(
  parts: readonly { variance: number; degreesOfFreedom: number }[],
): number {
  const total = parts.reduce((sum, part) => sum + part.variance, 0);
  return total ** 2 / parts.reduce((sum, part) => sum + part.variance ** 2 / part.degreesOfFreedom, 0);
}
