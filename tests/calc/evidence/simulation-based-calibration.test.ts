import { writeFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { Setting } from './simulated-lots.ts';
import { calibrationChiSquares, unpartedChiSquares } from './simulated-lots.ts';

/**
 * S. Talts, M. Betancourt, D. Simpson, A. Vehtari, A. Gelman, *Validating Bayesian Inference Algorithms with
 * Simulation-Based Calibration*, arXiv:1804.06788. For the long run, which also writes its result beside this file:
 * CALIBRATION_LOTS=1000 npx vitest run --config tests/vitest.config.ts tests/calc/evidence/simulation-based-calibration.test.ts
 */
const longRun = process.env.CALIBRATION_LOTS;
const lotCount = Number(longRun ?? 100);

/** Chi-square of 9 degrees of freedom exceeds this once in 10,000 (NIST/SEMATECH e-Handbook, 1.3.6.7.4, has 27.877 for 0.001). */
const LIMIT = 33.72;

const replicateSd = { medianFrac: 0.08, sdLog: 0.8 };
const settings: Record<string, Setting> = {
  'one lab assay, three smelts': { replicateSd, errors: 'model', counts: { labs: 1, plain: 2, roast: 1 } },
  'no lab assay, six smelts': { replicateSd, errors: 'model', counts: { labs: 0, plain: 3, roast: 3 } },
  'three lab assays, sixteen smelts': {
    replicateSd,
    errors: 'model',
    counts: { labs: 3, plain: 8, roast: 8 },
  },
  'errors simply added, one lab assay, four smelts': {
    replicateSd,
    errors: 'sum',
    counts: { labs: 1, plain: 2, roast: 2 },
  },
};

describe('simulation-based calibration', () => {
  const results: Record<string, Record<string, number>> = {};

  function judge(name: string, chiSquares: Record<string, number>, quantities: number): void {
    results[name] = Object.fromEntries(
      Object.entries(chiSquares).map(([quantity, value]) => [quantity, Number(value.toFixed(2))]),
    );
    if (longRun !== undefined) {
      const report = {
        lotCount,
        drawsPerLot: { parted: 99, unparted: 4000 },
        bins: 10,
        chiSquareLimit: LIMIT,
        chiSquares: results,
      };
      writeFileSync(`${import.meta.dirname}/calibration-result.json`, `${JSON.stringify(report, null, 2)}\n`);
    }
    expect(Object.keys(chiSquares)).toHaveLength(quantities);
    for (const value of Object.values(chiSquares)) expect(value).toBeLessThan(LIMIT);
  }

  it.each(Object.entries(settings))(
    'ranks the truth evenly among the draws: %s',
    (name, setting) => judge(name, calibrationChiSquares(setting, lotCount), 6),
    1_800_000,
  );

  it('ranks the truth evenly among the draws with beads that are not parted', () => {
    judge('two lab assays, two parted and three unparted beads', unpartedChiSquares(lotCount), 7);
  }, 1_800_000);

  it('would notice an inference that is too sure of itself', () => {
    // Results that scatter by 16 % taken for results that scatter by 8 %: the truth falls too often outside the draws.
    const chiSquares = calibrationChiSquares(
      {
        replicateSd: { medianFrac: 0.08, sdLog: 0.05 },
        simulatedSdFactor: 2,
        errors: 'model',
        counts: { labs: 2, plain: 4, roast: 4 },
      },
      150,
    );
    expect(chiSquares.grade).toBeGreaterThan(LIMIT);
    expect(chiSquares.recovered).toBeGreaterThan(LIMIT);
  });
});
