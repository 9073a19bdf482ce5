import { describe, expect, it } from 'vitest';
import { netValueAtEnd, quantityAtEnd } from '../../../api/calc/books/season-end.ts';
import { createRandom } from '../../../api/calc/random.ts';

describe('the season’s end', () => {
  it('is what was done where nothing is left, without a range', () => {
    const complete = [
      { planned: 10, done: 9 },
      { planned: 10, done: 11 },
    ];
    expect(quantityAtEnd({ done: 20, complete, left: 0, monthsLeft: 0 })).toEqual({
      p10: 20,
      p50: 20,
      p90: 20,
    });
  });

  it('scales the plan by what came of it: 9 and 11 of 10 a month, 20 left in two months', () => {
    const complete = [
      { planned: 10, done: 9 },
      { planned: 10, done: 11 },
    ];
    // r = 1, sd = 0.1414; u = 0.1414 × 20 × √(1/2 + 1/2) = 2.828; t(0.9; 1) = 3.0777 (any table of Student's t)
    const { p10, p50, p90 } = quantityAtEnd({ done: 20, complete, left: 20, monthsLeft: 2 });
    expect(p50).toBe(40);
    expect(p10).toBeCloseTo(40 - 3.0777 * 2.8284, 2);
    expect(p90).toBeCloseTo(40 + 3.0777 * 2.8284, 2);
  });

  it('adds what open batches bring and takes the months’ costs off', () => {
    const end = netValueAtEnd({
      toDate: -5000,
      openBatches: [{ mean: 3000, p10: 2000, p90: 4000, bookedCost: 200 }],
      monthCosts: [900, 1100],
      monthsLeft: 2,
      plannedCostsLeft: 0,
    });
    expect(end).toMatchObject({ p50: -3800, fromBatches: 3200, costsLeft: 2000 });
    // The batch: half its range. The costs: 3.0777 × 141.42 × √(2 × (1 + 2/2)) = 870.5.
    expect((end.p90 - end.p10) / 2).toBeCloseTo(Math.hypot(1000, 870.5), 0);
  });

  it('has the truth in its range in 8 cases of 10, with twelve months of plan and six of them done', () => {
    const random = createRandom(7);
    const within = Array.from({ length: 4000 }, () => {
      const months = Array.from({ length: 12 }, () => ({
        planned: 10,
        done: 10 * (1 + 0.2 * random.normal()),
      }));
      const complete = months.slice(0, 6);
      const done = complete.reduce((sum, one) => sum + one.done, 0);
      const truth = months.reduce((sum, one) => sum + one.done, 0);
      const { p10, p90 } = quantityAtEnd({ done, complete, left: 60, monthsLeft: 6 });
      return p10 <= truth && truth <= p90;
    }).filter(Boolean).length;
    // 4,000 cases of 0.8 scatter by 0.0063.
    expect(within / 4000).toBeGreaterThan(0.78);
    expect(within / 4000).toBeLessThan(0.82);
  });
});
