import { describe, expect, it } from 'vitest';
import { stockOutlook, type PlannedNeed } from '../../../api/calc/books/stock-outlook.ts';

const need = (
  batchCode: string,
  on: string,
  supplyId: string,
  quantity: string,
  backQuantity = '0',
): PlannedNeed => ({ batchCode, on, supplyId, quantity, backQuantity });

const outlook = (quantity: string | null, needs: PlannedNeed[], usedInSeason = '60', seasonDays = 40) =>
  stockOutlook({
    supplies: [{ supplyId: 's', quantity, usedInSeason }],
    needs,
    seasonDays,
    today: '2026-06-10',
  })[0];

describe('how long a supply lasts', () => {
  // By hand: 60 kg in 40 days are 1.5 kg a day; 100 ÷ 1.5 = 66.7.
  it('is what is at hand over what the season used a day', () => {
    expect(outlook('100', [])).toMatchObject({ usedPerDay: '1.5', daysLeft: 66, shortage: null });
    expect(outlook('100', [], '0')).toMatchObject({ usedPerDay: null, daysLeft: null });
    expect(outlook(null, [])).toMatchObject({ daysLeft: null, shortage: null });
    expect(outlook('-3', [])).toMatchObject({ daysLeft: 0 });
  });

  it('says what the planned batches lack, by when, in the order of their days', () => {
    const needs = [need('B-3', '2026-07-01', 's', '50'), need('B-2', '2026-06-20', 's', '70.5')];
    expect(outlook('100', needs)).toMatchObject({
      plannedQuantity: '120.5',
      shortage: { quantity: '20.5', by: '2026-07-01', batchCodes: ['B-3'] },
    });
    expect(outlook('120.5', needs)?.shortage).toBeNull();
  });

  it('counts on the lead that comes back, but not before it is back', () => {
    const needs = [
      need('B-1', '2026-06-12', 's', '40', '32'),
      need('B-2', '2026-06-20', 's', '40', '32'),
      need('B-3', '2026-06-28', 's', '40', '32'),
    ];
    expect(outlook('56', needs)?.shortage).toBeNull();
    expect(outlook('50', needs)?.shortage).toEqual({
      quantity: '6',
      by: '2026-06-28',
      batchCodes: ['B-3'],
    });
  });

  it('is due today where the day of the batch has passed', () => {
    expect(outlook('0', [need('B-1', '2026-06-01', 's', '5')])?.shortage?.by).toBe('2026-06-10');
  });
});
