import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { difference, exactly, product, quotient, scale, sum } from '../../api/calc/measured.ts';

describe('arithmetic on independent measured values', () => {
  // JCGM 100:2008, example H.1 (end gauge), H.1.3.2: u(d) from 5.8, 3.9 and 6.7 nm is 9.7 nm, and H.1.4: the
  // parts 25, 9.7, 2.9 and 16.6 nm make 32 nm; the length is 50.000623 mm + 215 nm = 50.000838 mm.
  it('adds the parts of the end gauge of GUM H.1', () => {
    const comparison = sum({ value: 215, u: 5.8 }, { value: 0, u: 3.9 }, { value: 0, u: 6.7 });
    expect(comparison.u).toBeCloseTo(9.7, 1);
    const length = sum({ value: 50_000_623, u: 25 }, comparison, { value: 0, u: 2.9 }, { value: 0, u: 16.6 });
    expect(length.value).toBe(50_000_838);
    expect(length.u).toBeCloseTo(32, 0);
  });

  // JCGM 100:2008, 5.1.6, eq. 12: for products and quotients the squares of relative uncertainties add.
  it('adds relative variances in products and quotients', () => {
    const a = { value: 12, u: 0.3 };
    const b = { value: -5, u: 0.2 };
    const relative = Math.hypot(0.3 / 12, 0.2 / 5);
    expect(product(a, b).u / 60).toBeCloseTo(relative, 14);
    expect(quotient(a, b).u / 2.4).toBeCloseTo(relative, 14);
    expect(quotient(a, b).value).toBeCloseTo(-2.4, 14);
  });

  it('never makes an uncertainty negative, and leaves exact values exact', () => {
    const measured = fc.record({
      value: fc.double({ min: -1e3, max: 1e3, noNaN: true }),
      u: fc.double({ min: 0, max: 10, noNaN: true }),
    });
    fc.assert(
      fc.property(measured, measured, fc.double({ min: -9, max: 9, noNaN: true }), (a, b, factor) => {
        // A divisor of which one over it is beyond what a number holds is no measured value.
        fc.pre(Math.abs(b.value) > 1e-9);
        for (const { u } of [sum(a, b), difference(a, b), product(a, b), quotient(a, b), scale(a, factor)]) {
          expect(u).toBeGreaterThanOrEqual(0);
        }
        expect(product(exactly(a.value), exactly(b.value)).u).toBe(0);
        expect(scale(a, factor)).toEqual({
          value: product(a, exactly(factor)).value,
          u: product(a, exactly(factor)).u,
        });
      }),
    );
  });
});
