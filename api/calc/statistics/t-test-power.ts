import { incompleteBeta } from './beta.ts';
import { logBeta } from './gamma.ts';

/** Beyond this many standard errors e^(−δ²/2) leaves the range of a double, and no test of use can fail. */
const largestNoncentrality = 37;

/**
 * Power of a two-sided t test: the chance that |t| will exceed `criticalT` when the true difference is
 * `noncentrality` standard errors. t² is then noncentral F, so P(|t| ≤ c) = Σ wⱼ I_x(j + ½, ν/2) with
 * x = c²/(c² + ν) and Poisson weights wⱼ of mean δ²/2 (NIST DLMF 8.17 for I; each from the one before by
 * I(a + 1, b) = I(a, b) − xᵃ(1 − x)ᵇ/(a B(a, b)), DLMF 8.17.20). NaN without degrees of freedom.
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
  if (!(degreesOfFreedom > 0)) return Number.NaN;
  const half = Math.min(Math.abs(noncentrality), largestNoncentrality) ** 2 / 2;
  const squared = criticalT * criticalT;
  const x = squared / (squared + degreesOfFreedom);
  const oneMinusX = degreesOfFreedom / (squared + degreesOfFreedom);
  const b = degreesOfFreedom / 2;
  let beta = incompleteBeta({ x, oneMinusX, a: 0.5, b }).lower;
  let step = 2 * Math.exp(0.5 * Math.log(x) + b * Math.log(oneMinusX) - logBeta(0.5, b));
  let weight = Math.exp(-half);
  let weightLeft = 1 - weight;
  let missed = weight * beta;
  for (let j = 1; weightLeft > 1e-15 && j < 2000; j++) {
    beta -= step;
    step *= (x * (j - 0.5 + b)) / (j + 0.5);
    weight *= half / j;
    missed += weight * beta;
    weightLeft -= weight;
  }
  return 1 - missed;
}
