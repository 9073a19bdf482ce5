import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { closeMetal } from '../../../api/calc/assay/metal-closure.ts';
import type { MetalClosureInput } from '../../../api/calc/assay/metal-closure.ts';

const input: MetalClosureInput = {
  metal: 'silver',
  sampleMassG: 100,
  sampleBalance: { name: 'bench balance', readabilityG: 0.01, repeatabilityG: 0 },
  beadMetalMg: { value: 80, u: 0.5 },
  products: [
    { name: 'matte', massG: 20, gradeGpt: { value: 800, u: 40 } },
    { name: 'slag', massG: 200, gradeGpt: { value: 10, u: 1 } },
  ],
  headGpt: { value: 1000, u: 20 },
};

function close(about: Partial<MetalClosureInput>) {
  const closure = closeMetal({ ...input, ...about });
  if (closure === null) throw new Error('there is metal');
  return closure;
}

describe('closing the metal account of a test smelt', () => {
  it('adds bead, matte and slag and holds them against the head, with every uncertainty', () => {
    const closure = close({});
    // 80 + 20 g × 800 g/t + 200 g × 10 g/t = 80 + 16 + 2 mg of 100.
    expect(closure.foundMg.value).toBeCloseTo(98, 12);
    const uG = 0.01 / Math.sqrt(6);
    const uFound = Math.hypot(0.5, 20 * 0.04, 200 * 0.001, uG * 0.8, uG * 0.01);
    expect(closure.foundMg.u).toBeCloseTo(uFound, 12);
    expect(closure.headMg?.value).toBeCloseTo(100, 12);
    expect(closure.headMg?.u).toBeCloseTo(Math.hypot(100 * 0.02, uG * 1), 12);
    expect(closure.closureFrac?.value).toBeCloseTo(0.98, 12);
    expect(closure.recoveryFrac.value).toBeCloseTo(0.8, 12);
    expect(closure.builtUpHeadGpt.value).toBeCloseTo(980, 10);
    expect(closure.unaccountedMg?.value).toBeCloseTo(2, 10);
    expect(closure.findings).toEqual([]);
  });

  // Locked-cycle test of the Pulacayo feasibility study (NI 43-101, 2013, p. 113): of the silver 63.4 % in the lead
  // concentrate (3.1 % of the mass at 10,891 g/t) and 31.3 % in the zinc concentrate (5 % at 3,303 g/t); head by
  // build-up 532.5 g/t. The tailings follow from the printed recoveries: 5.3 % of the silver in 91.9 % of the mass.
  it('builds up the head of a published locked-cycle test', () => {
    const tailingsGpt = (0.053 * 532.5) / 0.919;
    const closure = close({
      sampleMassG: 1000,
      sampleBalance: { name: 'bench balance', readabilityG: 0, repeatabilityG: 0 },
      beadMetalMg: { value: (31 * 10_891) / 1000, u: 0 },
      products: [
        { name: 'zinc concentrate', massG: 50, gradeGpt: { value: 3303, u: 0 } },
        { name: 'tailings', massG: 919, gradeGpt: { value: tailingsGpt, u: 0 } },
      ],
      headGpt: { value: 527.6, u: 5 },
    });
    expect(closure.builtUpHeadGpt.value / 532.5).toBeCloseTo(1, 2);
    expect(closure.shares[0]?.shareFrac.value).toBeCloseTo(0.634, 2);
    expect(closure.shares[1]?.shareFrac.value).toBeCloseTo(0.313, 2);
    expect((closure.closureFrac?.value ?? 0) - 1).toBeCloseTo(0.009, 2);
  });

  it('says what is unaccounted for, and what an unassayed matte would have to run to hold it', () => {
    const closure = close({ products: [{ name: 'matte', massG: 20, gradeGpt: null }] });
    expect(closure.findings.map(({ code }) => code)).toEqual(['metal-unaccounted', 'product-not-assayed']);
    expect(closure.findings[1]?.sentence).toContain('it would run 1,000 g/t, 100 % of the head');
  });

  it('says when more was found than the head holds, and when there is no head', () => {
    expect(close({ headGpt: { value: 800, u: 5 } }).findings.map(({ code }) => code)).toEqual([
      'more-metal-than-head',
    ]);
    const headless = close({ headGpt: null });
    expect([headless.headMg, headless.closureFrac, headless.unaccountedMg]).toEqual([null, null, null]);
    expect(headless.recoveryFrac.value).toBeCloseTo(80 / 98, 12);
    expect(headless.findings.map(({ code }) => code)).toEqual(['head-assay-missing']);
  });

  it('is null without a sample or without metal', () => {
    expect(closeMetal({ ...input, sampleMassG: 0 })).toBeNull();
    expect(closeMetal({ ...input, beadMetalMg: { value: 0, u: 0.1 }, products: [] })).toBeNull();
  });

  it('has shares that add up to 1, and recovery with its own uncertainty in the numerator only once', () => {
    const grade = fc.option(
      fc.record({
        value: fc.double({ min: 0, max: 5000, noNaN: true }),
        u: fc.double({ min: 0, max: 50, noNaN: true }),
      }),
      { nil: null },
    );
    const product = fc.record({
      name: fc.constant('matte'),
      massG: fc.double({ min: 0, max: 300, noNaN: true }),
      gradeGpt: grade,
    });
    fc.assert(
      fc.property(fc.array(product, { maxLength: 4 }), (products) => {
        const closure = close({ products, headGpt: null });
        expect(closure.shares.reduce((total, { shareFrac }) => total + shareFrac.value, 0)).toBeCloseTo(
          1,
          10,
        );
        // With the bead alone, bead/found is 1 whatever the bead weighs.
        if (closure.shares.length === 1) expect(closure.recoveryFrac.u).toBeCloseTo(0, 12);
      }),
    );
  });
});
