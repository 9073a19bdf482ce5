import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  batchCost,
  batchMovementKeys,
  costsOf,
  priceOn,
  type BatchActuals,
  type PricedSupply,
} from '../../../api/calc/books/batch-cost.ts';
import { stockLedger } from '../../../api/calc/books/moving-average.ts';

const supply = (id: string, unit: string, ...prices: [string, string][]): PricedSupply => ({
  id,
  name: id,
  unit,
  prices: prices.map(([effectiveOn, price]) => ({ effectiveOn, price })),
});
const supplies = [
  supply('soda', 'kg', ['2026-01-01', '1.35'], ['2026-06-01', '1.50']),
  supply('lead', 'kg', ['2026-01-01', '2.90']),
  supply('labour', 'h', ['2026-01-01', '28']),
  supply('unpriced', 'kg'),
];
const actuals: BatchActuals = {
  id: 'b1',
  pricedOn: '2026-05-31',
  consumption: [{ supplyId: 'soda', quantity: '13.37' }],
  labourHours: '7.5',
  labourSupplyId: 'labour',
  leadInKg: '40',
  leadBackKg: '36.5',
  leadSupplyId: 'lead',
};

describe('what a batch has cost', () => {
  it('is hand arithmetic: 13.37 × 1.35 + 7.5 × 28 + (40 − 36.5) × 2.90', () => {
    const cost = batchCost(actuals, supplies);
    expect(cost.lines.map((line) => line.amount)).toEqual(['18.05', '210.00', '116.00', '-105.85']);
    expect(cost.total).toBe('238.20');
    expect(cost.missing).toEqual([]);
  });

  it('takes the price of the day, so that an old cost can be repeated', () => {
    expect(priceOn(supplies[0]!, '2025-12-31')).toBeNull();
    expect(priceOn(supplies[0]!, '2026-05-31')).toBe('1.35');
    expect(priceOn(supplies[0]!, '2026-06-01')).toBe('1.50');
  });

  it('names what it could not cost instead of taking it as nothing', () => {
    const cost = batchCost(
      {
        ...actuals,
        consumption: [
          { supplyId: 'unpriced', quantity: '1' },
          { supplyId: 'gone', quantity: '1' },
        ],
        labourHours: null,
        leadInKg: null,
        leadBackKg: null,
      },
      supplies,
    );
    expect(cost).toMatchObject({ lines: [], total: '0.00' });
    expect(cost.missing).toHaveLength(5);
  });

  it('takes what is used out of a stock at its average, the rest at its list price', () => {
    // 100 kg for 290.00 and 100 kg for 330.00 are 200 kg at 3.10: 40 × 3.10 and 36.5 × 3.10 back.
    const ledger = stockLedger({
      movements: [
        { key: 'p1', on: '2026-05-01', kind: 'purchase', quantity: '100', amount: '290' },
        { key: 'p2', on: '2026-05-02', kind: 'purchase', quantity: '100', amount: '330' },
        {
          key: batchMovementKeys.leadIn('b1'),
          on: '2026-05-31',
          kind: 'use',
          quantity: '40',
          amount: null,
        },
        {
          key: batchMovementKeys.leadBack('b1'),
          on: '2026-05-31',
          kind: 'return',
          quantity: '36.5',
          amount: null,
        },
      ],
      start: null,
      supply: { name: 'lead', unit: 'kg' },
      listPriceOn: () => null,
    });
    const { lines, total } = batchCost(actuals, supplies, new Map(costsOf(ledger)));
    expect(lines.map(({ pricedBy, unitPrice, amount }) => [pricedBy, unitPrice, amount])).toEqual([
      ['list', '1.35', '18.05'],
      ['list', '28', '210.00'],
      ['average', '3.1', '124.00'],
      ['average', '3.1', '-113.15'],
    ]);
    expect(total).toBe('238.90');
  });

  it('foots to the cent whatever the quantities', () => {
    const cents = fc.integer({ min: 1, max: 9_999_999 }).map((n) => (n / 1000).toFixed(3));
    fc.assert(
      fc.property(cents, cents, cents, (soda, hours, lead) => {
        const { lines, total } = batchCost(
          {
            ...actuals,
            consumption: [{ supplyId: 'soda', quantity: soda }],
            labourHours: hours,
            leadInKg: lead,
          },
          supplies,
        );
        const inCents = lines.reduce((sum, line) => sum + BigInt(line.amount.replace('.', '')), 0n);
        expect(inCents).toBe(BigInt(total.replace('.', '')));
      }),
    );
  });
});
