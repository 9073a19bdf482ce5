import { describe, expect, it } from 'vitest';
import type { Figures } from '../../../api/calc/books/book-entry.ts';
import { correctionTable } from '../../../reports/model/month-corrections.ts';

const rowsOf = (is: Figures) =>
  correctionTable({
    currency: 'USD',
    corrections: [
      {
        key: 'statement',
        label: 'Statement of bar B-1',
        ref: { table: 'statement', id: '1' },
        corrects: '2026-06',
        was: {},
        is,
        difference: is,
        changedOn: '2026-07-02',
        changedBy: null,
      },
    ],
  }).rows.map(({ cells }) => [cells.figure, cells.is]);

describe('the corrections of closed months', () => {
  it('tell the money of a statement without its number of statements beside it', () => {
    expect(rowsOf({ settled: '1046.58', statements: '1' })).toEqual([['settled', '1,046.58']]);
  });

  it('show numbers of entries as whole numbers where nothing else changed', () => {
    expect(rowsOf({ statements: '1' })).toEqual([['statements', '1']]);
    expect(rowsOf({ days: '2', lots: '1' })).toEqual([
      ['days', '2'],
      ['lots', '1'],
    ]);
  });
});
