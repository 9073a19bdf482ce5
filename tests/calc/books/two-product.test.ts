import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { twoProduct } from '../../../api/calc/books/two-product.ts';
import { exactly } from '../../../api/calc/measured.ts';

const grades = (f: number, c: number, t: number, relative = 0) => ({
  feedGrade: { value: f, u: f * relative },
  concentrateGrade: { value: c, u: c * relative },
  tailingsGrade: { value: t, u: t * relative },
});

describe('recovery from three assays', () => {
  it('gives the figures of a published copper exercise', () => {
    // 15,000 t/d of 2.1 % Cu, concentrate 33.5 %, tailings 0.19 %: R 91.47 %, 860.1 t/d of concentrate
    // (exercise on two-product balances in a university course of mineral processing).
    const { result, findings } = twoProduct(grades(2.1, 33.5, 0.19));
    expect((result?.recoveryFrac.value ?? 0) * 100).toBeCloseTo(91.47, 2);
    expect((result?.yieldFrac.value ?? 0) * 15_000).toBeCloseTo(860.1, 1);
    expect(findings).toEqual([]);
  });

  it('spreads as simulation of the three assays does (JCGM 101:2008 in place of the first-order law)', () => {
    const { result } = twoProduct(grades(5, 120, 1.2, 0.02));
    let seed = 12345;
    const uniform = (): number => {
      seed = (seed * 1_103_515_245 + 12_345) % 2 ** 31;
      return (seed + 0.5) / 2 ** 31;
    };
    const normal = (): number => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
    const drawn = Array.from({ length: 40_000 }, () => {
      const drawnOnce = twoProduct({
        feedGrade: exactly(5 * (1 + 0.02 * normal())),
        concentrateGrade: exactly(120 * (1 + 0.02 * normal())),
        tailingsGrade: exactly(1.2 * (1 + 0.02 * normal())),
      });
      return drawnOnce.result?.recoveryFrac.value ?? Number.NaN;
    });
    const mean = drawn.reduce((sum, one) => sum + one, 0) / drawn.length;
    const sd = Math.sqrt(drawn.reduce((sum, one) => sum + (one - mean) ** 2, 0) / (drawn.length - 1));
    expect((result?.recoveryFrac.u ?? 0) / sd).toBeCloseTo(1, 1);
  });

  it('gives back the metal: feed = concentrate + tailings', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 10, noNaN: true }),
        fc.double({ min: 0.01, max: 10, noNaN: true }),
        fc.double({ min: 0.01, max: 500, noNaN: true }),
        (t, above, further) => {
          const f = t + above;
          const c = f + further;
          const yieldFrac = twoProduct(grades(f, c, t)).result?.yieldFrac.value ?? Number.NaN;
          expect(yieldFrac * c + (1 - yieldFrac) * t).toBeCloseTo(f, 8);
        },
      ),
    );
  });

  it('refuses assays in the wrong order and warns where feed and tailings are alike', () => {
    expect(twoProduct(grades(5, 4, 1)).result).toBeNull();
    expect(twoProduct(grades(5, 40, 6)).findings[0]?.code).toBe('two-product-order');
    expect(twoProduct(grades(5, 40, 4.8, 0.05)).findings[0]?.code).toBe('two-product-uncertain');
  });
});
