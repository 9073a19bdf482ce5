import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { findPositiveRoot, findRoot } from '../../../api/calc/statistics/root.ts';

describe('finding a root', () => {
  it('finds the root of a cubic to the last figures', () => {
    fc.assert(
      fc.property(fc.double({ min: -50, max: 50, noNaN: true }), (root) => {
        const found = findRoot((x) => (x - root) ** 3 + (x - root), { low: -60, high: 70 });
        expect(Math.abs(found - root)).toBeLessThan(1e-12 * (1 + Math.abs(root)));
      }),
    );
  });

  it('is not a number where the ends have one sign, and the end itself where that is the root', () => {
    expect(findRoot((x) => x * x + 1, { low: -1, high: 1 })).toBeNaN();
    expect(findRoot((x) => x, { low: 0, high: 1 })).toBe(0);
    expect(findRoot((x) => x - 1, { low: 0, high: 1 })).toBe(1);
  });

  it('looks further out for a positive root', () => {
    expect(findPositiveRoot((x) => Math.log(x / 1e-8), 1)).toBeCloseTo(1e-8, 18);
    expect(findPositiveRoot((x) => Math.log(x / 1e8), 1)).toBeCloseTo(1e8, 3);
  });
});
