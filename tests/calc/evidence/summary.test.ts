import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { quantiles, summarize } from '../../../api/calc/evidence/summary.ts';

describe('summaries', () => {
  it("agree with numpy's percentile and std", () => {
    // numpy.percentile (linear interpolation) and numpy.std(ddof=1) of the same eleven values.
    const summary = summarize(Float64Array.of(3, 1, 4, 1, 5, 9, 2, 6, 5, 3, 5));
    expect([summary.p10, summary.p50, summary.p90]).toEqual([1, 4, 6]);
    expect(summary.mean).toBeCloseTo(4, 14);
    expect(summary.sd).toBeCloseTo(2.36643191323985, 13);
    expect(quantiles(Float64Array.of(1, 2, 4, 8), [0.1, 0.5, 0.9])).toEqual([
      1.3,
      3,
      expect.closeTo(6.8, 12),
    ]);
  });

  it('agree with sorting', () => {
    const values = fc.array(fc.double({ noNaN: true, min: -1e6, max: 1e6 }), {
      minLength: 1,
      maxLength: 200,
    });
    const shares = fc.uniqueArray(fc.double({ min: 0, max: 1, noNaN: true }), { minLength: 1, maxLength: 5 });
    fc.assert(
      fc.property(values, shares, (list, probabilities) => {
        const sorted = list.toSorted((a, b) => a - b);
        const ascending = probabilities.toSorted((a, b) => a - b);
        const found = quantiles(Float64Array.from(list), ascending);
        ascending.forEach((p, i) => {
          const place = p * (sorted.length - 1);
          const [low, high] = [sorted[Math.floor(place)]!, sorted[Math.ceil(place)]!];
          expect(found[i]).toBeCloseTo(low + (place - Math.floor(place)) * (high - low), 6);
        });
      }),
    );
  });

  it('leave the draws in their order', () => {
    const draws = Float64Array.of(5, 3, 9, 1);
    summarize(draws);
    expect(draws).toEqual(Float64Array.of(5, 3, 9, 1));
  });

  it('of one draw have no spread, of none are not numbers', () => {
    expect(summarize(Float64Array.of(7))).toEqual({ mean: 7, sd: 0, p10: 7, p50: 7, p90: 7 });
    expect(quantiles(new Float64Array(0), [0.5])).toEqual([Number.NaN]);
  });
});
