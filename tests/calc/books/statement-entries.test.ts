import { describe, expect, it } from 'vitest';
import { trialBalance } from '../../../api/calc/books/journal.ts';
import { rateBook } from '../../../api/calc/books/rate-book.ts';
import {
  paymentEntry,
  statementEntries,
  type BookedStatement,
} from '../../../api/calc/books/statement-entries.ts';
import type { BookedLine } from '../../../api/calc/books/statement-position.ts';

const line = (id: string, amount: string | null, result: string | null = null): BookedLine => ({
  id,
  section: id.split('/')[0] as BookedLine['section'],
  label: id === 'royalties/state' ? 'State (due from the seller, not deducted here)' : id,
  amount,
  result: result === null ? null : { value: result, unit: 'EUR' },
});

const statement = (
  number: string,
  issuedOn: string,
  brings: string,
  lines: BookedLine[],
): BookedStatement => ({
  id: number,
  number,
  stage: number === 'S-1' ? 'provisional' : 'final',
  issuedOn,
  productId: 'bar',
  productCode: 'BAR',
  buyerName: 'Invented Refiner',
  millSells: true,
  currency: 'EUR',
  brings,
  productionTaxes: ['State'],
  lines,
});

/** An invented bar: provisional 80 % of the net value, then final with more gold and one charge less. */
const first = statement('S-1', '2026-06-10', '720.00', [
  line('payable/Au', '900.00'),
  line('payable/Ag', '100.00'),
  line('charges/refining/Au', '-60.00'),
  line('charges/freight', '-40.00'),
  line('royalties/state', null, '9.00'),
  line('previous/held-back', '-180.00'),
]);
const second = statement('S-2', '2026-07-05', '203.00', [
  line('payable/Au', '925.00'),
  line('payable/Ag', '98.00'),
  line('charges/refining/Au', '-61.00'),
  line('charges/freight', '-35.00'),
  line('royalties/state', null, '9.30'),
  line('previous/S-1', '-720.00'),
  line('previous/interest/S-1', '-4.00'),
]);
const rates = (): ReturnType<typeof rateBook> =>
  rateBook({
    millCurrency: 'USD',
    rates: [
      { currency: 'EUR', ratedOn: '2026-06-01', rate: '1.10' },
      { currency: 'EUR', ratedOn: '2026-07-01', rate: '1.20' },
    ],
  });
const split = {
  massEffect: '-12.00',
  assayEffect: '30.00',
  priceEffect: '5.00',
  otherEffect: '0.00',
  total: '23.00',
};

describe('a chain of statements in the books', () => {
  const bookings = statementEntries({ statements: [first, second], splitOf: () => split, rates: rates() });

  it('books the first whole, and the later one as what it changes', () => {
    expect(Object.fromEntries(bookings[0]?.change ?? [])).toEqual({
      'sales-gold': '-900',
      'sales-silver': '-100',
      'refining-charge': '60',
      freight: '40',
      'production-tax': '9',
      'production-tax-payable': '-9',
      'receivable-held-back': '180',
    });
    // By hand: 923 + 100 − ... Δgold 25, Δsilver −2 = 23 = −12 + 30 + 5; refining +1, freight −5, tax +0.30, interest 4.
    expect(Object.fromEntries(bookings[1]?.change ?? [])).toEqual({
      'adjustment-mass': '12',
      'adjustment-assay': '-30',
      'adjustment-price': '-5',
      'refining-charge': '1',
      freight: '-5',
      'production-tax': '0.3',
      'production-tax-payable': '-0.3',
      'receivable-held-back': '-180',
      interest: '4',
    });
    // 925 + 98 − 61 − 35 = 927 net; 927 − 720 − 4 = 203.
    expect(bookings.map(({ due }) => due)).toEqual(['720.00', '203.00']);
  });

  it('converts by the rate of each day, and frees what was held back without leaving cents of exchange', () => {
    const trial = trialBalance(bookings.flatMap(({ entries }) => entries));
    // 720 × 1.10 + 203 × 1.20; held back 180 × 1.10 in, 180 × 1.20 out, 18.00 the difference, a gain.
    expect(trial.get('receivable')).toBe('1035.60');
    expect(trial.get('receivable-held-back')).toBe('0.00');
    expect(trial.get('exchange-difference')).toBe('-18.00');
    expect(trial.get('sales-gold')).toBe('-990.00');
    expect(trial.get('production-tax-payable')).toBe('-10.26');
  });

  it('frees a receivable at the rate of its statement; the rest is exchange', () => {
    const [booking] = bookings;
    if (booking === undefined) throw new Error('no booking');
    const pay = (id: string, countsAs: string, settledBefore: string) =>
      paymentEntry({
        payment: { id, paidOn: '2026-07-02', amount: countsAs, currency: 'EUR', countsAs, reference: '' },
        booking,
        settledBefore,
        rates: rates(),
      });
    const entries = [pay('a', '333.33', '0'), pay('b', '386.67', '333.33')].flatMap((one) => one ?? []);
    const trial = trialBalance([...booking.entries, ...entries]);
    // 720 EUR at 1.20 is 864.00 of cash, at 1.10 it was 792.00: 72.00 gained.
    expect(trial.get('receivable')).toBe('0.00');
    expect(trial.get('cash')).toBe('864.00');
    expect(trial.get('exchange-difference')).toBe('-72.00');
    expect(entries[0]?.lines.find(({ account }) => account === 'cash')?.foreign).toEqual({
      amount: '333.33',
      currency: 'EUR',
      rate: '1.20',
    });
  });

  it('puts a change that could not be split on other adjustments, and names a missing rate', () => {
    const unsplit = statementEntries({ statements: [first, second], splitOf: () => null, rates: rates() });
    expect(unsplit[1]?.change.get('adjustment-other')).toBe('-23');
    const none = rateBook({ millCurrency: 'USD', rates: [] });
    statementEntries({ statements: [first], splitOf: () => null, rates: none });
    expect(none.findings().map(({ sentence }) => sentence)).toEqual([
      expect.stringContaining('No exchange rate of EUR on or before 2026-06-10'),
    ]);
  });

  it('books as income what a mill charges that treats for others', () => {
    const [toll] = statementEntries({
      statements: [
        {
          ...statement('S-1', '2026-06-10', '-840.00', [
            line('payable/Au', '900.00'),
            line('charges/treatment', '-60.00'),
          ]),
          currency: 'USD',
          millSells: false,
        },
      ],
      splitOf: () => null,
      rates: rates(),
    });
    expect(Object.fromEntries(toll?.change ?? [])).toEqual({
      'metal-bought': '900',
      'charges-to-customers': '-60',
    });
    expect(toll?.dueAccount).toBe('payable-suppliers');
    expect(toll?.due).toBe('-840.00');
  });
});
