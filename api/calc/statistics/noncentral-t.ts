import { incompleteBeta } from './beta.ts';
import { logBeta } from './gamma.ts';
import { normalCdf } from './normal.ts';

/**
 * Probability that noncentral t lies below t. R. V. Lenth, Algorithm AS 243, Applied Statistics 38 (1989),
 * 185: Poisson-weighted incomplete beta functions, each from the one before by
 * I(a + 1, b) = I(a, b) − xᵃ(1 − x)ᵇ/(a B(a, b)). |noncentrality| up to 37; NaN beyond.
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
  const b = degreesOfFreedom / 2;
  const step = (a: number): number => Math.exp(a * Math.log(x) + b * Math.log(oneMinusX) - logBeta(a, b)) / a;
  const half = (noncentrality * noncentrality) / 2;
  let weight = Math.exp(-half);
  let oddWeight = (noncentrality * weight) / Math.sqrt(Math.PI / 2);
  let beta = incompleteBeta({ x, oneMinusX, a: 0.5, b }).lower;
  let oddBeta = incompleteBeta({ x, oneMinusX, a: 1, b }).lower;
  let betaStep = step(0.5);
  let oddBetaStep = step(1);
  let total = weight * beta + oddWeight * oddBeta;
  let weightLeft = 1 - weight;
  for (let j = 1; weightLeft > 1e-15 && j < 2000; j++) {
    beta -= betaStep;
    oddBeta -= oddBetaStep;
    betaStep *= (x * (j - 0.5 + b)) / (j + 0.5);
    oddBetaStep *= (x * (j + b)) / (j + 1);
    weight *= half / j;
    oddWeight *= half / (j + 0.5);
    total += weight * beta + oddWeight * oddBeta;
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
