import { describe, expect, it } from 'vitest';
import { batchNeeds } from '../../../api/calc/books/batch-needs.ts';
import type { NeededSupply } from '../../../api/calc/books/batch-needs.ts';
import { chargeSheetOfRecords } from '../../../api/calc/facts/charge-sheet-records.ts';
import { RECORDS, SUPPLIES } from '../../reports/charge-sheet-fixture.ts';

const { sheet } = chargeSheetOfRecords(RECORDS);
if (sheet === null) throw new Error('the invented batch must give a sheet');
const needsWith = (
  change: (supply: NeededSupply) => NeededSupply,
  on = '2026-06-08',
  stock: [supplyId: string, quantity: string][] = [],
) =>
  batchNeeds(sheet, {
    supplies: SUPPLIES.map(change),
    used: RECORDS.treatment,
    stock: new Map(stock),
    on,
    currency: 'USD',
  });
const lineOf = (needs: ReturnType<typeof batchNeeds>, name: string) =>
  needs.lines.find((line) => line.name === name);

describe('what a batch needs', () => {
  // 62.4 kg: soda 49.92 × 1.40 = 69.888, silica 9.36 × 0.30, flour 4.68 × 1.10, lead 18.72 × 3.10, litharge 6.24 × 5.80,
  // propane 28.6 × 1.90, 2 crucibles at 165, 25 cupels at 9; each to the cent, by hand.
  it('counts what is weighed out, burnt and used up, each at its price of the day', () => {
    const needs = needsWith((supply) => supply);
    expect(needs.lines.map(({ name, quantity, amount }) => [name, quantity, amount])).toEqual([
      ['Soda ash', '49.920', '69.89'],
      ['Silica', '9.360', '2.81'],
      ['Flour', '4.680', '5.15'],
      ['Lead shot', '18.720', '58.03'],
      ['Litharge', '6.240', '36.19'],
      ['Propane', '28.6', '54.34'],
      ['Crucible', '2', '330.00'],
      ['Cupel', '25', '225.00'],
    ]);
    expect(needs.total).toBe('781.41');
  });

  // Soda 49.92 − 40.5 = 9.42 × 1.40 = 13.188; propane is there, flour 0.32 short of 4.68 at 1.10.
  it('has only what is beyond the stock bought', () => {
    const idOf = (name: string): string => SUPPLIES.find((supply) => supply.name === name)?.id ?? '';
    const needs = needsWith((supply) => supply, '2026-06-08', [
      [idOf('Soda ash'), '40.5'],
      [idOf('Propane'), '28.6'],
      [idOf('Flour'), '4.36'],
      [idOf('Silica'), '-2'],
    ]);
    expect(lineOf(needs, 'Soda ash')).toMatchObject({ inStock: '40.5', toBuy: '9.42', amount: '13.19' });
    expect(lineOf(needs, 'Propane')).toMatchObject({ toBuy: '0', amount: '0.00' });
    expect(lineOf(needs, 'Flour')).toMatchObject({ toBuy: '0.32', amount: '0.35' });
    expect(lineOf(needs, 'Silica')).toMatchObject({ inStock: '-2', toBuy: '9.36', amount: '2.81' });
    expect(lineOf(needs, 'Lead shot')).toMatchObject({ inStock: null, toBuy: '18.720', amount: '58.03' });
  });

  it('takes the price in force on the day, whatever the order', () => {
    const dearer = (supply: NeededSupply): NeededSupply => ({
      ...supply,
      prices: [
        { effectiveOn: '2026-05-01', price: '2', currency: 'USD' },
        ...supply.prices,
        { effectiveOn: '2026-07-01', price: '9', currency: 'USD' },
      ],
    });
    expect(lineOf(needsWith(dearer), 'Soda ash')).toMatchObject({ unitPrice: '2', amount: '99.84' });
    expect(lineOf(needsWith(dearer, '2026-04-30'), 'Soda ash')?.unitPrice).toBe('1.40');
  });

  it.each([
    ['no price yet', (supply: NeededSupply) => ({ ...supply, prices: [] })],
    [
      'priced in CAD',
      (supply: NeededSupply) => ({
        ...supply,
        prices: supply.prices.map((price) => ({ ...price, currency: 'CAD' })),
      }),
    ],
    ['bought by the L, needed by the kg', (supply: NeededSupply) => ({ ...supply, unit: 'L' })],
  ])('leaves what has %s out of the sum and says so', (why, change) => {
    const needs = needsWith((supply) => (supply.name === 'Soda ash' ? change(supply) : supply));
    expect(lineOf(needs, 'Soda ash')).toMatchObject({ quantity: '49.920', amount: null, unpriced: why });
    expect(needs.total).toBe('711.52');
  });
});
