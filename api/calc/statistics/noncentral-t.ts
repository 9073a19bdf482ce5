import { incompleteBeta } from './beta.ts';
import { logGamma } from './gamma.ts';
import { normalCdf } from './normal.ts';

/**
 * Probability that noncentral t lies below t. R. V. Lenth, Algorithm AS 243, Applied Statistics 38 (1989),
 * 185: Poisson-weighted incomplete beta functions, here summed outward with each term computed afresh.
 * Meant for planning tests: |noncentrality| up to 37; NaN beyond.
 */
function noncentralTCdf({
  t,
  degreesOfFreedom,
  noncentrality,
}: {
  t: number;
  degreesOfFreedom: number;
  noncentrality: number;
}): number {
  if (!(degreesOfFreedom > 0) || !(Math.abs(noncentrality) <= 37)) return Number.NaN;
  if (t < 0) return 1 - noncentralTCdf({ t: -t, degreesOfFreedom, noncentrality: -noncentrality });
  const squared = t * t;
  const x = squared / (squared + degreesOfFreedom);
  const oneMinusX = degreesOfFreedom / (squared + degreesOfFreedom);
  const half = (noncentrality * noncentrality) / 2;
  let total = 0;
  let weightLeft = 1;
  for (let j = 0; j < 5000 && weightLeft > 1e-15; j++) {
    const weight = half === 0 ? (j === 0 ? 1 : 0) : Math.exp(-half + j * Math.log(half) - logGamma(j + 1));
    const oddWeight =
      half === 0
        ? 0
        : (noncentrality / Math.SQRT2) * Math.exp(-half + j * Math.log(half) - logGamma(j + 1.5));
    total +=
      weight * incompleteBeta({ x, oneMinusX, a: j + 0.5, b: degreesOfFreedom / 2 }).lower +
      oddWeight * incompleteBeta({ x, oneMinusX, a: j + 1, b: degreesOfFreedom / 2 }).lower;
    weightLeft -= weight;
  }
  return normalCdf(-noncentrality) + total / 2;
}

/**
 * Power of a two-sided t test: the chance that |t| will exceed `criticalT` when the true difference is
 * `noncentrality` standard errors.
 */
export function twoSidedTTestPower({
  criticalT,
  degreesOfFreedom,
  noncentrality,
}: {
  criticalT: number;
  degreesOfFreedom: number;
  noncentrality: number;
}): number {
  // Beyond 37 standard errors the test cannot fail for any critical value of use.
  const effect = Math.min(Math.abs(noncentrality), 37);
  return (
    1 -
    noncentralTCdf({ t: criticalT, degreesOfFreedom, noncentrality: effect }) +
    noncentralTCdf({ t: -criticalT, degreesOfFreedom, noncentrality: effect })
  );
}
