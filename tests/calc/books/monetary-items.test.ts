import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { BookRecords } from '../../../api/calc/books/book-records.ts';
import { monetaryItemsOn, revaluationEntry } from '../../../api/calc/books/monetary-items.ts';
import { isBalanceSheetAccount } from '../../../api/calc/books/opening-entry.ts';
import { periodBooks, type PeriodBooks } from '../../../api/calc/books/period-books.ts';
import { allBooks, type PeriodBooksFacts } from '../../../api/calc/books/period-journal.ts';
import { rateBook } from '../../../api/calc/books/rate-book.ts';
import type { BookedStatement } from '../../../api/calc/books/statement-entries.ts';
import { addDays } from '../../../api/calc/calendar.ts';
import { Dec, sumOf } from '../../../api/calc/money.ts';
import { emptyRecords } from './book-fixture.ts';

function statement(id: string, issuedOn: string, amount: string, held = '0'): BookedStatement {
  return {
    id,
    number: `S-${id}`,
    stage: 'final',
    issuedOn,
    productId: `product ${id}`,
    productCode: '',
    buyerName: 'Invented Refiner',
    millSells: true,
    currency: 'SGD',
    brings: new Dec(amount).minus(held).toFixed(2),
    productionTaxes: [],
    lines: [
      { id: 'payable/Au', section: 'payable', label: '', amount, result: null },
      ...(new Dec(held).isZero()
        ? []
        : [
            {
              id: 'previous/held-back',
              section: 'previous' as const,
              label: '',
              amount: new Dec(held).negated().toFixed(2),
              result: null,
            },
          ]),
    ],
  };
}

function payment(
  id: string,
  statementId: string,
  paidOn: string,
  amount: string,
): BookRecords['payments'][number] {
  return {
    id,
    statementId,
    statementNumber: '',
    buyerName: '',
    statementCurrency: 'SGD',
    millSells: true,
    paidOn,
    amount,
    currency: 'SGD',
    countsAs: amount,
    reference: '',
  };
}

function booksOf(facts: PeriodBooksFacts, from: string, to: string): PeriodBooks {
  return periodBooks({
    ...facts,
    from,
    to,
    all: allBooks(facts),
    realizableOn: () => () => ({ value: null, remark: '' }),
    frozen: [],
    corrections: [],
  });
}

function factsOf(
  to: string,
  records: Partial<BookRecords>,
  statements: BookedStatement[],
  rates: { ratedOn: string; rate: string }[],
): PeriodBooksFacts {
  const dated = rates.filter(({ ratedOn }) => ratedOn <= to).map((one) => ({ currency: 'SGD', ...one }));
  return {
    records: { ...emptyRecords(to), ...records },
    statements: statements.filter(({ issuedOn }) => issuedOn <= to),
    products: [],
    splitOf: () => null,
    pricePerG: () => null,
    rates: rateBook({ millCurrency: 'USD', rates: dated }),
  };
}

const moved = ({ trial }: PeriodBooks, account: string) => {
  const row = trial.find((one) => one.account === account);
  return row === undefined ? null : { opening: row.opening, closing: row.closing };
};

describe('foreign money at the end of a period', () => {
  // BrainMass, problem 254771 "Computing and Settling Acts Receivable in Foreign Currency": 60,000 Singapore dollars sold
  // on 20 December at 0.476, 0.480 at the year's end, paid on 17 January at 0.495; its answer books 28,560 for the sale.
  const rates = [
    { ratedOn: '2026-12-20', rate: '0.476' },
    { ratedOn: '2026-12-31', rate: '0.480' },
    { ratedOn: '2027-01-17', rate: '0.495' },
  ];
  const statements = [statement('A', '2026-12-20', '60000.00')];
  const payments = [payment('p', 'A', '2027-01-17', '60000.00')];

  it('stands at the closing rate, and each period has the difference that arose in it', () => {
    const december = booksOf(factsOf('2026-12-31', {}, statements, rates), '2026-12-01', '2026-12-31');
    expect(moved(december, 'receivable')).toEqual({ opening: '0.00', closing: '28800.00' });
    expect(moved(december, 'exchange-difference')?.closing).toBe('-240.00');
    expect(moved(december, 'sales-gold')?.closing).toBe('-28560.00');
    const january = booksOf(
      factsOf('2027-01-31', { payments }, statements, rates),
      '2027-01-01',
      '2027-01-31',
    );
    expect(moved(january, 'receivable')).toEqual({ opening: '28800.00', closing: '0.00' });
    expect(moved(january, 'exchange-difference')?.closing).toBe('-900.00');
    expect(moved(january, 'cash')?.closing).toBe('29700.00');
  });

  it('counts what suppliers are owed and what a buyer holds back', () => {
    const expenses = [
      {
        id: 'e',
        spentOn: '2026-12-21',
        kind: 'repair' as const,
        amount: '200.00',
        currency: 'SGD',
        payee: 'Invented workshop',
        document: 'W-1',
        paidOn: '2027-01-10',
      },
    ];
    const facts = factsOf(
      '2026-12-31',
      { expenses },
      [statement('H', '2026-12-20', '1000.00', '100.00')],
      rates,
    );
    const { bookings } = allBooks(facts);
    const items = monetaryItemsOn({ ...facts, bookings }, '2026-12-31');
    expect(items.map(({ account, open, booked, carried }) => [account, open, booked, carried])).toEqual([
      ['receivable', '900.00', '428.40', '432.00'],
      ['receivable-held-back', '100.00', '47.60', '48.00'],
      ['payable-suppliers', '-200.00', '-95.20', '-96.00'],
    ]);
    // 3.60 + 0.40 gained, 0.80 lost.
    const entry = revaluationEntry({ items, on: '2026-12-31', key: 'revaluation' });
    expect(entry?.lines.find(({ account }) => account === 'exchange-difference')?.credit).toBe('3.20');
    // Nothing of it is open once it is paid: on the day before it is.
    const later = (on: string) => monetaryItemsOn({ ...facts, bookings }, on).map(({ account }) => account);
    expect(later('2027-01-09')).toContain('payable-suppliers');
    expect(later('2027-01-10')).not.toContain('payable-suppliers');
  });

  it('chains: whatever is owed and paid at whatever rates, a period opens as the one before closed', () => {
    const on = (offset: number): string => addDays('2026-01-01', offset);
    const cents = fc.integer({ min: 1, max: 5_000_000 }).map((one) => (one / 100).toFixed(2));
    fc.assert(
      fc.property(
        fc.array(
          fc.record({
            at: fc.nat(60),
            amount: cents,
            heldFrac: fc.nat(3),
            paid: fc.array(fc.nat(60), { maxLength: 3 }),
          }),
          {
            minLength: 1,
            maxLength: 4,
          },
        ),
        fc.array(fc.integer({ min: 100, max: 30_000 }), { minLength: 12, maxLength: 12 }),
        fc.array(fc.record({ at: fc.nat(60), amount: cents, paidAfter: fc.option(fc.nat(40)) }), {
          maxLength: 3,
        }),
        fc.integer({ min: 1, max: 70 }),
        (owed, steps, bought, split) => {
          const rates = steps.map((rate, at) => ({ ratedOn: on(at * 8), rate: (rate / 10_000).toFixed(4) }));
          const statements = owed.map(({ at, amount, heldFrac }, n) =>
            statement(String(n), on(at), amount, new Dec(amount).times(heldFrac).div(10).toFixed(2)),
          );
          const payments = owed.flatMap(({ at, amount, heldFrac, paid }, n) =>
            paid.map((after, place) =>
              payment(
                `${n}-${place}`,
                String(n),
                on(at + after),
                new Dec(amount)
                  .times(10 - heldFrac)
                  .div(10 * paid.length)
                  .toFixed(2),
              ),
            ),
          );
          const expenses = bought.map(({ at, amount, paidAfter }, n) => ({
            id: String(n),
            spentOn: on(at),
            kind: 'repair' as const,
            amount,
            currency: 'SGD',
            payee: '',
            document: '',
            paidOn: paidAfter === null ? null : on(at + paidAfter),
          }));
          const period = (from: string, to: string): PeriodBooks =>
            booksOf(
              factsOf(
                to,
                {
                  payments: payments
                    .filter(({ paidOn }) => paidOn <= to)
                    .toSorted((a, b) => (a.paidOn < b.paidOn ? -1 : 1)),
                  expenses: expenses.filter(({ spentOn }) => spentOn <= to),
                },
                statements,
                rates,
              ),
              from,
              to,
            );
          const [first, second] = [period(on(0), on(split)), period(on(split + 1), on(150))];
          const whole = period(on(0), on(150));
          for (const books of [first, second, whole]) {
            expect(sumOf(books.trial.map(({ closing }) => closing)).isZero()).toBe(true);
            for (const account of ['receivable', 'receivable-held-back', 'payable-suppliers'] as const)
              expect([
                account,
                sumOf(
                  books.monetary.filter((one) => one.account === account).map(({ carried }) => carried),
                ).toFixed(2),
              ]).toEqual([account, moved(books, account)?.closing ?? '0.00']);
          }
          const opening = new Map(second.trial.map((row) => [row.account, row.opening]));
          for (const { account, closing } of first.trial)
            if (isBalanceSheetAccount(account) && account !== 'opening-balance')
              expect([account, opening.get(account) ?? '0.00']).toEqual([account, closing]);
          // What was gained and lost in two parts is what was gained and lost in all.
          const difference = (books: PeriodBooks) =>
            new Dec(moved(books, 'exchange-difference')?.closing ?? 0);
          expect(difference(first).plus(difference(second)).toFixed(2)).toBe(difference(whole).toFixed(2));
        },
      ),
      { numRuns: 150 },
    );
  });
});
