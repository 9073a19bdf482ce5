import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { TestSmelt } from '../../../api/calc/assay/test-smelt.ts';
import { workTestSmelt } from '../../../api/calc/assay/test-smelt.ts';
import { smeltOf } from './smelt-of.ts';

const positive = (max: number) => fc.double({ min: max / 1e4, max, noNaN: true });
/** A mass as a balance shows it, in whole steps. */
const orMissing = (max: number) =>
  fc.option(
    fc.integer({ min: 0, max: max * 1000 }).map((steps) => steps / 1000),
    { nil: null },
  );
const measured = (max: number) => fc.record({ value: positive(max), u: positive(max / 5) });

/** Any test smelt an owner could record, mistakes and gaps included. */
const anySmelt: fc.Arbitrary<TestSmelt> = fc
  .record({
    sampleMassG: positive(2000),
    roast: fc.option(
      fc.record({
        massBeforeG: orMissing(2000),
        massAfterG: orMissing(2000),
        hours: orMissing(9),
        tempC: orMissing(900),
      }),
      { nil: null },
    ),
    collectorLeadG: orMissing(300),
    lithargeG: orMissing(300),
    ironInG: orMissing(100),
    ironOutG: orMissing(100),
    buttonG: orMissing(300),
    matteG: orMissing(100),
    slagG: orMissing(900),
    beadMg: orMissing(3000),
    partedGoldMg: orMissing(800),
    blankMgPerGLead: fc.option(measured(0.05), { nil: null }),
    cupellationCorrection: fc.option(
      fc.record({ silverLossFrac: measured(0.05), goldLossFrac: measured(0.02) }),
      { nil: null },
    ),
    silverToGoldRatioFromAssay: fc.option(measured(40), { nil: null }),
    sampling: fc.option(fc.record({ relativeSdGold: positive(0.5), relativeSdSilver: positive(0.5) }), {
      nil: null,
    }),
  })
  .map((about) => smeltOf(about));

describe('every test smelt', () => {
  it('has uncertainties that are never negative, and a covariance that can be one', () => {
    fc.assert(
      fc.property(anySmelt, (smelt) => {
        const worked = workTestSmelt(smelt);
        for (const result of Object.values(worked)) {
          if (result === null || typeof result !== 'object' || !('u' in result)) continue;
          expect(result.u).toBeGreaterThanOrEqual(0);
        }
        const { goldGpt, silverGpt, goldPlusSilverGpt, covarianceGoldSilver } = worked;
        if (goldGpt === null || silverGpt === null || covarianceGoldSilver === null) return;
        // Positive semidefinite: |cov| ≤ u·u; and the sum has the variance that the three make.
        expect(Math.abs(covarianceGoldSilver)).toBeLessThanOrEqual(goldGpt.u * silverGpt.u * (1 + 1e-9));
        const variance = goldGpt.u ** 2 + silverGpt.u ** 2 + 2 * covarianceGoldSilver;
        const scale = goldGpt.u ** 2 + silverGpt.u ** 2;
        expect(Math.abs((goldPlusSilverGpt?.u ?? Number.NaN) ** 2 - variance)).toBeLessThanOrEqual(
          1e-9 * scale,
        );
        expect(goldPlusSilverGpt?.value).toBeCloseTo(goldGpt.value + silverGpt.value, 6);
      }),
      { numRuns: 500 },
    );
  });

  it('has a budget for each grade whose shares add up to 1 and to its uncertainty', () => {
    fc.assert(
      fc.property(anySmelt, (smelt) => {
        const worked = workTestSmelt(smelt);
        for (const target of ['gold', 'silver', 'goldPlusSilver'] as const) {
          const shares = worked.budget.filter((share) => share.target === target);
          const grade = worked[`${target}Gpt`];
          if (grade === null || grade.u === 0) {
            expect(shares).toEqual([]);
            continue;
          }
          expect(shares.reduce((total, share) => total + share.shareFrac, 0)).toBeCloseTo(1, 9);
          const together = Math.hypot(...shares.map((share) => share.uGpt));
          expect(Math.abs(together / grade.u - 1)).toBeLessThan(1e-9);
        }
      }),
      { numRuns: 500 },
    );
  });

  it('explains every grade that is missing, and never gives one below zero', () => {
    fc.assert(
      fc.property(anySmelt, (smelt) => {
        const worked = workTestSmelt(smelt);
        for (const grade of [worked.goldGpt, worked.silverGpt, worked.goldPlusSilverGpt]) {
          if (grade === null) {
            const paths = worked.findings.map(({ path }) => path);
            expect(
              paths.some((path) => ['/beadMg', '/partedGoldMg', '/blankMgPerGLead'].includes(path)),
            ).toBe(true);
          } else {
            expect(grade.value).toBeGreaterThanOrEqual(0);
          }
        }
      }),
      { numRuns: 500 },
    );
  });

  it('has a grade that goes up with the bead and down with the sample', () => {
    fc.assert(
      fc.property(positive(1000), positive(9), positive(9), (beadMg, more, larger) => {
        const grade = (about: Partial<TestSmelt>) =>
          workTestSmelt(smeltOf({ partedGoldMg: null, buttonG: null, beadMg, ...about })).goldPlusSilverGpt
            ?.value ?? 0;
        expect(grade({ beadMg: beadMg * more }) / grade({})).toBeCloseTo(more, 9);
        expect(grade({ sampleMassG: 100 * larger }) * larger).toBeCloseTo(grade({}), 6);
      }),
    );
  });

  it('leaves what it was handed as it was', () => {
    fc.assert(
      fc.property(anySmelt, (smelt) => {
        const before = structuredClone(smelt);
        workTestSmelt(smelt);
        expect(smelt).toEqual(before);
      }),
    );
  });
});
