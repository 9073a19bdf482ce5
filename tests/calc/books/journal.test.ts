import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  journalEntry,
  journalTotals,
  trialBalance,
  UnbalancedEntryError,
} from '../../../api/calc/books/journal.ts';
import { sumOf } from '../../../api/calc/money.ts';

const about = {
  key: 'k',
  on: '2026-07-01',
  document: 'D-1',
  description: 'invented',
  roundingAccount: 'exchange',
};

describe('a journal entry', () => {
  it('books a purchase and its payment as any book of double entry does', () => {
    const bought = journalEntry({
      ...about,
      rate: null,
      postings: [
        { account: 'reagents', amount: '120.00' },
        { account: 'payables', amount: '-120.00' },
      ],
    });
    const paid = journalEntry({
      ...about,
      rate: null,
      postings: [
        { account: 'payables', amount: '120.00' },
        { account: 'cash', amount: '-120.00' },
      ],
    });
    const entries = [bought, paid].filter((entry) => entry !== null);
    expect(journalTotals(entries)).toEqual({ debit: '240.00', credit: '240.00' });
    expect([...trialBalance(entries)]).toEqual([
      ['reagents', '120.00'],
      ['payables', '0.00'],
      ['cash', '-120.00'],
    ]);
  });

  it('converts line by line and says where the cents of rounding went', () => {
    // 33.33 + 33.33 + 33.34 = 100.00 at 1.1: 36.663, 36.663, 36.674 and 110.00, by hand.
    const entry = journalEntry({
      ...about,
      rate: { currency: 'EUR', rate: '1.1' },
      postings: [
        { account: 'receivable', amount: '100.00' },
        { account: 'a', amount: '-33.33' },
        { account: 'b', amount: '-33.33' },
        { account: 'c', amount: '-33.34' },
      ],
    });
    expect(entry?.lines.map(({ account, debit, credit }) => [account, debit, credit])).toEqual([
      ['receivable', '110.00', '0.00'],
      ['a', '0.00', '36.66'],
      ['b', '0.00', '36.66'],
      ['c', '0.00', '36.67'],
      ['exchange', '0.00', '0.01'],
    ]);
    expect(entry?.lines[0]?.foreign).toEqual({ amount: '100', currency: 'EUR', rate: '1.1' });
  });

  it('refuses what does not balance, and books nothing where there is nothing', () => {
    expect(() => journalEntry({ ...about, rate: null, postings: [{ account: 'a', amount: '1' }] })).toThrow(
      UnbalancedEntryError,
    );
    expect(journalEntry({ ...about, rate: null, postings: [{ account: 'a', amount: '0.00' }] })).toBeNull();
  });

  it('balances to the cent at any rate', () => {
    const cents = fc.integer({ min: -1_000_000, max: 1_000_000 });
    fc.assert(
      fc.property(
        fc.array(cents, { minLength: 1, maxLength: 12 }),
        fc.double({ min: 0.001, max: 1500, noNaN: true }),
        (amounts, rate) => {
          const postings = amounts.map((amount, place) => ({
            account: `account ${place}`,
            amount: (amount / 100).toFixed(2),
          }));
          postings.push({
            account: 'rest',
            amount: sumOf(postings.map(({ amount }) => amount))
              .negated()
              .toFixed(2),
          });
          const entry = journalEntry({
            ...about,
            rate: { currency: 'EUR', rate: rate.toFixed(6) },
            postings,
          });
          const totals = journalTotals(entry === null ? [] : [entry]);
          expect(totals.debit).toBe(totals.credit);
        },
      ),
    );
  });
});
