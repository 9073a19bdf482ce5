import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { columnWidths, figureColumn, figureOf } from '../../../reports/pdf/figure-columns.ts';

describe('figureOf', () => {
  it.each([
    ['1,234.50 USD/ozt', { whole: '1,234', fraction: '.50', tail: 'USD/ozt' }],
    ['−0.25', { whole: '−0', fraction: '.25', tail: '' }],
    ['84.4 ± 1.2', { whole: '84', fraction: '.4', tail: '± 1.2' }],
    ['4 210', { whole: '4', fraction: '', tail: '210' }],
    ['12\u202f345.6', { whole: '12\u202f345', fraction: '.6', tail: '' }],
    ['7', { whole: '7', fraction: '', tail: '' }],
  ])('cuts %s at its decimal point', (cell, parts) => {
    expect(figureOf(cell)).toEqual(parts);
  });

  it.each(['–', '', 'not assayed', '2026-07-03', '3-for-2', 'S-0007'])('takes %j for words', (cell) => {
    expect(figureOf(cell)).toBeNull();
  });
});

it('figureColumn holds the widest of each part, whichever rows they are in', () => {
  const rows = ['1,000.5 t', '2.125 kg/h', '–'].map((value) => ({
    style: 'plain' as const,
    cells: { value },
  }));
  const column = figureColumn(rows, 'value', () => (text) => text.length);
  expect(column).toEqual({ wholePt: 5, fractionPt: 4, tailPt: 4 });
});

describe('columnWidths', () => {
  it('follows the weights where every column has what it needs', () => {
    expect(
      columnWidths(
        [
          { weight: 3, neededPt: 10 },
          { weight: 1, neededPt: 10 },
        ],
        400,
      ),
    ).toEqual([300, 100]);
  });

  it('always fills the width, and gives each column what it needs when there is enough', () => {
    const column = fc.record({
      weight: fc.integer({ min: 1, max: 50 }),
      neededPt: fc.integer({ min: 1, max: 200 }),
    });
    fc.assert(
      fc.property(
        fc.array(column, { minLength: 1, maxLength: 9 }),
        fc.integer({ min: 200, max: 900 }),
        (columns, width) => {
          const widths = columnWidths(columns, width);
          expect(widths.reduce((sum, each) => sum + each, 0)).toBeCloseTo(width, 6);
          if (columns.reduce((sum, each) => sum + each.neededPt, 0) > width) return;
          columns.forEach(({ neededPt }, index) =>
            expect(widths[index]).toBeGreaterThanOrEqual(neededPt - 0.02),
          );
        },
      ),
    );
  });
});
