import { describe, expect, it } from 'vitest';
import type { SettlementInput } from '../../../api/calc/settlement/input.ts';
import { splitChange } from '../../../api/calc/settlement/split-change.ts';
import { startingTerms } from '../../../api/calc/terms/starting-terms.ts';
import type { Terms } from '../../../api/calc/terms/terms.ts';
import { assay, assayRule, concentrate, metal, NO_DATES } from './support.ts';

/** Copper at a price per unit: value is tonnes × percent × price, easy by hand. Invented. */
const terms: Terms = {
  ...startingTerms({ title: 'By the unit', material: 'concentrate' }),
  assays: [assayRule('Cu', 'percent', 2)],
  metals: [
    metal(
      'Cu',
      'unit',
      '0',
      { kind: 'unit-then-percent', paidFrac: '1', deduction: '0' },
      {
        price: {
          unit: 'unit',
          currency: null,
          paidFrac: '1',
          reduction: '0',
          basis: {
            kind: 'quotations',
            source: 'an invented price',
            period: { kind: 'dates', from: '2026-01-01', to: '2026-01-31' },
            provisional: { kind: 'latest' },
          },
        },
      },
    ),
  ],
  provisional: { shareFrac: '0.85', of: 'net-value' },
};

function state(
  kg: string,
  percent: string,
  price: string,
  more: Partial<SettlementInput> = {},
): SettlementInput {
  return {
    terms,
    stage: 'final',
    parcel: concentrate(kg, '0'),
    assays: [assay('Cu', 'percent', percent)],
    prices: [{ metal: 'Cu', price, basis: 'invented', quotations: [] }],
    dates: NO_DATES,
    previouslyPaid: [],
    ...more,
  };
}

describe('the change between two settlements', () => {
  it('is split mass first, then assay, then price, each with what was replaced before', () => {
    const previous = state('100000', '20.00', '80.00', { stage: 'provisional' });
    const next = state('99000', '21.00', '90.00', {
      previouslyPaid: [{ statementNumber: '1', amount: '136000.00' }],
    });
    // 100 t × 20 × 80 = 160,000; 99 t: 158,400; × 21: 166,320; × 90: 187,110.
    expect(splitChange({ previous, next })).toEqual({
      massEffect: '-1600.00',
      assayEffect: '7920.00',
      priceEffect: '20790.00',
      otherEffect: '0.00',
      total: '27110.00',
    });
  });

  it('shows what the terms changed apart from the rest', () => {
    const previous = state('100000', '20.00', '80.00');
    const royalties: Terms['royalties'] = [
      {
        name: 'Owner',
        kind: 'royalty',
        base: { kind: 'gross-value' },
        rate: { kind: 'flat', rateFrac: '0.02' },
        exemption: null,
        paidBy: 'buyer-withholds',
        payees: [],
      },
    ];
    const next = { ...previous, terms: { ...terms, royalties } };
    expect(splitChange({ previous, next })).toMatchObject({ otherEffect: '-3200.00', total: '-3200.00' });
  });

  it('is not split where a state cannot be settled', () => {
    const previous = state('100000', '20.00', '80.00');
    expect(splitChange({ previous, next: { ...previous, assays: [] } })).toBeNull();
  });
});
