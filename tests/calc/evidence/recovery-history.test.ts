import { describe, expect, it } from 'vitest';
import { expectedRecovery, recoveryOfLot } from '../../../api/calc/evidence/recovery-history.ts';
import { recoveryPriorFrom, recoveryQuantile } from '../../../api/calc/evidence/recovery-prior.ts';
import { createRandom } from '../../../api/calc/random.ts';

const stated = { mean: 0.85, sd: 0.05 };
const prior = recoveryPriorFrom(stated)!;
const logistic = (logit: number) => 1 / (1 + Math.exp(-logit));

describe('what one lot says of a recovery', () => {
  const random = createRandom(11, 'recovery-history');
  /** Draws of the posterior of a normal likelihood N(y, s²) on the logit under the stated prior, by its closed form. */
  const posteriorOf = (y: number, s: number, count = 40_000) => {
    const precision = prior.logitSd ** -2 + s ** -2;
    const centre = (prior.logitMean * prior.logitSd ** -2 + y * s ** -2) / precision;
    return Float64Array.from({ length: count }, () =>
      logistic(centre + random.normal() / Math.sqrt(precision)),
    );
  };

  it('is its likelihood, with what was believed beforehand taken out', () => {
    // A. Gelman et al., Bayesian Data Analysis, section 2.5: the posterior's precision is the sum of the two.
    const lot = recoveryOfLot(posteriorOf(2.4, 0.2), stated);
    expect(lot?.logitMean).toBeCloseTo(2.4, 1.5);
    expect((lot?.logitSd ?? 0) / 0.2).toBeCloseTo(1, 1);
  });

  it('is nothing where its tests moved nothing, or the recovery was taken as known', () => {
    expect(recoveryOfLot(posteriorOf(1, 50), stated)).toBeNull();
    expect(recoveryOfLot(posteriorOf(2, 0.2), { mean: 0.85, sd: 0 })).toBeNull();
    expect(recoveryOfLot(posteriorOf(2, 0.2), { mean: 1.2, sd: 0.1 })).toBeNull();
  });
});

describe('the recovery to be expected on the next lot', () => {
  it('is what was stated while no other lot speaks', () => {
    expect(expectedRecovery(stated, [])).toEqual(stated);
    const known = { mean: 0.85, sd: 0 };
    expect(expectedRecovery(known, [{ logitMean: 1, logitSd: 0.1 }])).toEqual(known);
  });

  it('follows one lot known exactly half-way, by the closed form of the hierarchical model', () => {
    // μ ~ N(m₀, v/2), lot ~ N(μ, v/2), seen exactly at y: μ | y has mean m₀ + (y − m₀)/2 and variance v/4, so the next
    // lot N(m₀ + (y − m₀)/2, 3v/4) (conditional of a bivariate normal with correlation ½).
    const y = prior.logitMean + 1;
    const next = recoveryPriorFrom(expectedRecovery(stated, [{ logitMean: y, logitSd: 1e-6 }]))!;
    expect(next.logitMean).toBeCloseTo(prior.logitMean + 0.5, 5);
    expect(next.logitSd).toBeCloseTo(Math.sqrt(0.75) * prior.logitSd, 5);
  });

  it('is hardly moved by a lot that hardly says anything', () => {
    const next = expectedRecovery(stated, [{ logitMean: prior.logitMean + 3, logitSd: 30 }]);
    expect(next.mean).toBeCloseTo(stated.mean, 3);
    expect(next.sd).toBeCloseTo(stated.sd, 3);
  });

  it('comes close to what many lots show, and as uncertain as they differ', () => {
    const lots = Array.from({ length: 200 }, (_, i) => ({
      logitMean: 2.5 + (i % 2 === 0 ? 0.1 : -0.1),
      logitSd: 0.01,
    }));
    const next = recoveryPriorFrom(expectedRecovery(stated, lots))!;
    expect(next.logitMean).toBeCloseTo(2.5, 1);
    expect(next.logitSd).toBeCloseTo(0.1, 1);
  });

  it('holds the next lot as often as it says, for treatments drawn from the model', () => {
    // Simulation in place of a published value: 3000 treatments, each with three lots tested and a fourth to foretell.
    const random = createRandom(5, 'next-lot');
    const half = prior.logitSd * Math.SQRT1_2;
    let within = 0;
    const count = 3000;
    for (let i = 0; i < count; i++) {
      const mu = prior.logitMean + half * random.normal();
      const lots = [0.15, 0.3, 0.6].map((logitSd) => ({
        logitMean: mu + half * random.normal() + logitSd * random.normal(),
        logitSd,
      }));
      const next = recoveryPriorFrom(expectedRecovery(stated, lots))!;
      const truth = logistic(mu + half * random.normal());
      if (truth > recoveryQuantile(next, 0.1) && truth < recoveryQuantile(next, 0.9)) within++;
    }
    expect(within / count).toBeGreaterThan(0.77);
    expect(within / count).toBeLessThan(0.83);
  });
});
