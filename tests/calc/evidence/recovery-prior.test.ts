import { describe, expect, it } from 'vitest';
import {
  logRecoveryCells,
  recoveryPriorFrom,
  recoveryQuantile,
} from '../../../api/calc/evidence/recovery-prior.ts';
import { normalCdf } from '../../../api/calc/statistics/normal.ts';

describe('the prior of a recovery', () => {
  // Matched in scipy 1.x with fsolve on moments by 120-point Gauss–Hermite quadrature (numpy.polynomial.hermite_e).
  it.each([
    { mean: 0.8, sd: 0.1, logitMean: 1.50460731, logitSd: 0.64747679 },
    { mean: 0.9, sd: 0.05, logitMean: 2.31403929, logitSd: 0.54773076 },
    { mean: 0.85, sd: 0.05, logitMean: 1.78765891, logitSd: 0.39313303 },
    { mean: 0.7, sd: 0.15, logitMean: 0.95829444, logitSd: 0.78546414 },
  ])('has mean $mean and standard deviation $sd', ({ mean, sd, logitMean, logitSd }) => {
    const prior = recoveryPriorFrom({ mean, sd })!;
    expect(prior.logitMean).toBeCloseTo(logitMean, 6);
    expect(prior.logitSd).toBeCloseTo(logitSd, 6);
  });

  it('is a point where the recovery is known, and nothing where it is impossible', () => {
    expect(recoveryPriorFrom({ mean: 0.5, sd: 0 })).toEqual({ logitMean: 0, logitSd: 0 });
    for (const impossible of [
      { mean: 0, sd: 0.1 },
      { mean: 1, sd: 0 },
      { mean: 1.1, sd: 0.1 },
      { mean: 0.9, sd: 0.3 },
    ]) {
      expect(recoveryPriorFrom(impossible)).toBeNull();
    }
    expect(recoveryPriorFrom({ mean: 0.9, sd: Number.NaN })).toBeNull();
  });

  it.each([0.1, 0.01, 0.002])('keeps its probabilities when cut into cells of %d', (step) => {
    for (const given of [
      { mean: 0.75, sd: 0.12 },
      { mean: 0.97, sd: 0.02 },
      { mean: 0.5, sd: 0.25 },
    ]) {
      const prior = recoveryPriorFrom(given)!;
      const { topLog, massFrac } = logRecoveryCells(prior, step);
      const total = massFrac.reduce((sum, mass) => sum + mass, 0);
      expect(Math.abs(total - 1)).toBeLessThan(2e-5);
      // Cumulative mass at a cell's lower edge against the normal distribution of the logit.
      const k = Math.floor(massFrac.length / 2);
      const above = massFrac.subarray(0, k + 1).reduce((sum, mass) => sum + mass, 0);
      const recovery = Math.exp(topLog - (k + 0.5) * step);
      const logit = Math.log(recovery / (1 - recovery));
      expect(above).toBeCloseTo(1 - normalCdf((logit - prior.logitMean) / prior.logitSd), 4);
    }
  });

  it('has the quantiles of the logistic of a normal', () => {
    const prior = recoveryPriorFrom({ mean: 0.8, sd: 0.1 })!;
    expect(recoveryQuantile(prior, 0.5)).toBeCloseTo(1 / (1 + Math.exp(-prior.logitMean)), 12);
    expect(recoveryQuantile(prior, 0.9)).toBeCloseTo(
      1 / (1 + Math.exp(-prior.logitMean - 1.2815515655 * prior.logitSd)),
      8,
    );
  });
});
