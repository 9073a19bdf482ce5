import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { stockLevel, stockLevelTable } from '../../reports/charts/stock-level.ts';
import { isRoundedToTenths, marksOutside, textsOf } from './inside-frame.ts';

const chart = {
  title: 'Soda ash in stock',
  unit: 'kg',
  levels: [
    { date: '2031-05-20', quantity: 150, isCount: false },
    { date: '2031-07-08', quantity: 102, isCount: false },
    { date: '2031-07-31', quantity: 101, isCount: true },
    { date: '2031-08-10', quantity: 201, isCount: false },
  ],
};
const anyDate = fc
  .integer({ min: Date.UTC(1990, 0, 1), max: Date.UTC(2060, 0, 1) })
  .map((time) => new Date(time).toISOString().slice(0, 10));

describe('the stock of a supply through time', () => {
  it('names the last level and rings the counts', () => {
    const scene = stockLevel(chart, 360);
    expect(textsOf(scene)).toContain('201 kg');
    expect(scene.marks.filter((mark) => mark.kind === 'circle' && !mark.filled)).toHaveLength(1);
    expect(scene.description).toContain('1 count, ringed');
    expect(stockLevelTable(chart).rows.map(({ cells }) => [cells['date'], cells['quantity']])).toEqual([
      ['2031-08-10', '201'],
      ['2031-07-31', '101'],
      ['2031-07-08', '102'],
      ['2031-05-20', '150'],
    ]);
  });

  it('says when there is nothing yet', () => {
    expect(textsOf(stockLevel({ ...chart, levels: [] }, 300)).join(' ')).toContain('Nothing was bought');
  });

  it('keeps every mark inside its frame, whatever the levels', () => {
    const levels = fc.array(
      fc.record({
        date: anyDate,
        quantity: fc.oneof(
          fc.integer({ min: -1e9, max: 1e9 }).map((n) => n / 1000),
          fc.constantFrom(0, Number.NaN, Number.POSITIVE_INFINITY),
        ),
        isCount: fc.boolean(),
      }),
      { maxLength: 40 },
    );
    fc.assert(
      fc.property(levels, fc.integer({ min: 240, max: 760 }), (some, width) => {
        const scene = stockLevel({ ...chart, levels: some }, width);
        expect(marksOutside(scene)).toEqual([]);
        expect(isRoundedToTenths(scene)).toBe(true);
        expect(JSON.stringify(scene)).not.toMatch(/NaN|Infinity/);
      }),
    );
  });
});
