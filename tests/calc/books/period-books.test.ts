import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { BookRecords } from '../../../api/calc/books/book-records.ts';
import { isBalanceSheetAccount } from '../../../api/calc/books/opening-entry.ts';
import {
  lessCostToComplete,
  lowerOf,
  type Realizable,
} from '../../../api/calc/books/net-realizable-value.ts';
import { periodBooks, type PeriodBooks } from '../../../api/calc/books/period-books.ts';
import { allBooks, type PeriodBooksFacts } from '../../../api/calc/books/period-journal.ts';
import { rateBook } from '../../../api/calc/books/rate-book.ts';
import type { BookedStatement } from '../../../api/calc/books/statement-entries.ts';
import { addDays } from '../../../api/calc/calendar.ts';
import { Dec, sumOf } from '../../../api/calc/money.ts';
import { batch, costOf, day, emptyRecords, FLUX, fluxEntries, hours, product } from './book-fixture.ts';

/** June of an invented small mill, every figure worked by hand in the test. */
function smallMill(to: string): {
  records: BookRecords;
  statements: BookedStatement[];
} {
  const records: BookRecords = {
    ...emptyRecords(to),
    days: [day('day', '2026-06-02', '100', 10)],
    lots: [
      { id: 'L', code: 'L', madeOn: '2026-06-03', dryMassKg: '50', ownerName: null },
      { id: 'P', code: 'P', madeOn: '2026-06-04', dryMassKg: '30', ownerName: null },
    ],
    lotParts: [
      {
        id: 'part',
        lotId: 'L',
        lotCode: 'L',
        source: 'day',
        sourceId: 'day',
        sourceCode: '2026-06-02',
        dryMassKg: '50',
        takenOn: '2026-06-03',
      },
    ],
    lotPurchases: [
      {
        lotId: 'P',
        lotCode: 'P',
        amount: '300.00',
        currency: 'USD',
        boughtOn: '2026-06-04',
        paidOn: null,
        supplier: 'Invented neighbour',
        document: 'N-1',
      },
    ],
    batches: [
      batch({
        id: 'B',
        lotId: 'L',
        dryMassKg: '25',
        inWorkOn: '2026-06-05',
        finishedOn: '2026-06-08',
        costOn: '2026-06-08',
        cost: costOf([{ supply: FLUX, quantity: '10', unitPrice: '2', amount: '20.00' }, hours(4)]),
      }),
    ],
    supplyPurchases: [
      {
        id: 'flux-1',
        supplyId: FLUX.id,
        boughtOn: '2026-06-01',
        quantity: '100',
        amount: '200.00',
        currency: 'USD',
        supplier: 'Invented shop',
        document: 'F-1',
        paidOn: null,
      },
    ],
    stockEntries: fluxEntries([
      { key: 'purchase:flux-1', on: '2026-06-01', kind: 'purchase', quantity: '100', amount: '200.00' },
      { key: 'batch:B:flux', on: '2026-06-08', kind: 'use', quantity: '10', amount: null },
      { key: 'count:c', on: '2026-06-30', kind: 'count', quantity: '88', amount: null },
    ]),
    expenses: [
      {
        id: 'rent',
        spentOn: '2026-06-10',
        kind: 'rent',
        amount: '350.00',
        currency: 'USD',
        payee: 'Invented landlord',
        document: 'R-1',
        paidOn: '2026-06-30',
      },
    ],
    payments: [
      {
        id: 'pay',
        statementId: 'S',
        statementNumber: 'S-1',
        buyerName: 'Invented Refiner',
        statementCurrency: 'USD',
        millSells: true,
        paidOn: '2026-06-25',
        amount: '500.00',
        currency: 'USD',
        countsAs: '500.00',
        reference: '',
      },
    ],
    writeOffs: [
      {
        id: 'spill',
        of: 'lot',
        sourceId: 'P',
        code: 'P',
        writtenOffOn: '2026-06-28',
        massKg: '3',
        reason: 'spilled',
      },
    ],
  };
  const statements: BookedStatement[] = [
    {
      id: 'S',
      number: 'S-1',
      stage: 'final',
      issuedOn: '2026-06-20',
      productId: 'bar',
      productCode: 'bar',
      buyerName: 'Invented Refiner',
      millSells: true,
      currency: 'USD',
      brings: '780.00',
      productionTaxes: [],
      lines: [
        { id: 'payable/Au', section: 'payable', label: 'Au paid', amount: '800.00', result: null },
        {
          id: 'charges/refining/Au',
          section: 'charges',
          label: 'Refining of Au',
          amount: '-20.00',
          result: null,
        },
      ],
    },
  ];
  return { records, statements };
}

const made = { batchId: 'B', lotId: 'L', madeOn: '2026-06-08' };
const products = [
  product({ ...made, id: 'bar', kind: 'bar', massKg: '0.032', goldG: '10', silverG: '20' }),
  product({ ...made, id: 'bead', kind: 'bead', massKg: '0.006', goldG: '5', silverG: '0' }),
  product({ ...made, id: 'matte', kind: 'matte', massKg: '2', goldG: null, silverG: null }),
];
const prices = { Au: new Dec(80), Ag: new Dec(1) };
const unknown: Realizable = { value: null, remark: '' };

function booksOf(from: string, to: string, lotPFetches: string): PeriodBooks {
  const facts: PeriodBooksFacts = {
    ...smallMill(to),
    products,
    splitOf: () => null,
    pricePerG: (metal) => prices[metal],
    rates: rateBook({ millCurrency: 'USD', rates: [] }),
  };
  return periodBooks({
    ...facts,
    from,
    to,
    all: allBooks(facts),
    frozen: [],
    corrections: [],
    realizableOn: (on) => (place) =>
      place.id !== 'P' ? unknown : { value: on <= '2026-06-30' ? '250.00' : lotPFetches, remark: '' },
  });
}
const closingOf = ({ trial }: PeriodBooks): Record<string, string> =>
  Object.fromEntries(
    trial.flatMap(({ account, closing }) => (closing === '0.00' ? [] : [[account, closing]])),
  );

describe('the books of a period', () => {
  const june = booksOf('2026-06-01', '2026-06-30', '290.00');

  it('are those worked by hand for an invented small mill', () => {
    // Day 260.00 for 100 kg; 50 kg into L 130.00; 25 kg into B 65.00, + flux 20.00 + hours 104.00 = 189.00.
    // Metal: bar 10 × 80 + 20 = 820, bead 400: bar 189 × 820 ÷ 1220 = 127.03 (cut), bead 61.97.
    // Lot P 300.00 − 3 kg spilled 30.00 = 270.00, fetches 250.00: written down 20.00.
    expect(closingOf(june)).toEqual({
      'inventory-concentrate': '445.00',
      'inventory-bars': '61.97',
      'supplies-reagent': '176.00',
      receivable: '280.00',
      cash: '150.00',
      'payable-suppliers': '-500.00',
      'wages-payable': '-364.00',
      'sales-gold': '-800.00',
      'refining-charge': '20.00',
      'cost-of-sales': '127.03',
      'write-off': '30.00',
      'write-down': '20.00',
      'stock-difference': '4.00',
      'expense-rent': '350.00',
    });
    expect(
      june.inventories.map(({ code, quantity, cost, carrying }) => [code, quantity, cost, carrying]),
    ).toEqual([
      ['days', '50', '130.00', '130.00'],
      ['L', '25', '65.00', '65.00'],
      ['P', '27', '270.00', '250.00'],
      ['bead', '0.006', '61.97', '61.97'],
      ['matte', '2', '0.00', '0.00'],
      ['Flux', '88', '176.00', '176.00'],
    ]);
    expect(june.opening).toBeNull();
  });

  it('open the next period as they closed this one, and take a write-down back that is no longer due', () => {
    const july = booksOf('2026-07-01', '2026-07-31', '290.00');
    const opening = Object.fromEntries(july.trial.map((row) => [row.account, row.opening]));
    for (const { account, closing } of june.trial)
      if (isBalanceSheetAccount(account))
        expect([account, opening[account] ?? '0.00']).toEqual([account, closing]);
    // Earned in June: 800 − 20 − 127.03 − 30 − 20 − 4 − 350.
    expect(opening['opening-balance']).toBe('-248.97');
    expect(july.trial.find(({ account }) => account === 'write-down')?.closing).toBe('-20.00');
    expect(closingOf(july)['inventory-concentrate']).toBe('465.00');
  });

  it('take the lower of cost and net realizable value as an examination in accounting does', () => {
    // AAT (Association of Accounting Technicians), practice exam 3, question 1.4, as worked in its forum's discussion
    // 36017 "Inventory IAS 2": cost, cost to complete, selling price; answer 1,543.
    const items = [
      ['400', '180', '562'],
      ['572', '210', '798'],
      ['615', '173', '762'],
    ] as const;
    const lower = items.map(([cost, toComplete, price]) =>
      lowerOf(cost, lessCostToComplete(price, toComplete)),
    );
    expect(sumOf(lower).toFixed(0)).toBe('1543');
    expect(lowerOf('10.00', null)).toBe('10.00');
    expect(lessCostToComplete('5', '7')).toBe('0.00');
  });
});

describe('the books of any mill', () => {
  const kg = (grams: number): string => (grams / 1000).toFixed(3);
  const on = (offset: number): string => addDays('2026-05-01', offset);
  const mill = fc.record({
    days: fc.array(fc.record({ grams: fc.nat(90_000), hours: fc.integer({ min: 0, max: 20 }) }), {
      minLength: 1,
      maxLength: 5,
    }),
    lots: fc.array(
      fc.record({
        at: fc.nat(30),
        ofDay: fc.nat(4),
        partG: fc.integer({ min: 1, max: 60_000 }),
        dryG: fc.integer({ min: 1, max: 60_000 }),
        bought: fc.option(fc.nat(900_000)),
        smeltG: fc.nat(500),
        lostG: fc.nat(9000),
      }),
      { minLength: 1, maxLength: 5 },
    ),
    batches: fc.array(
      fc.record({
        lot: fc.nat(4),
        start: fc.integer({ min: 20, max: 50 }),
        lasts: fc.option(fc.nat(9)),
        dryG: fc.integer({ min: 1, max: 40_000 }),
        hours: fc.nat(9),
        golds: fc.array(fc.option(fc.nat(20)), { maxLength: 3 }),
        soldAfter: fc.option(fc.nat(20)),
      }),
      { maxLength: 6 },
    ),
  });

  function recordsOf(of: typeof mill extends fc.Arbitrary<infer M> ? M : never, to: string) {
    const dated = <Row>(rows: Row[], dayOf: (row: Row) => string): Row[] =>
      rows.filter((row) => dayOf(row) <= to);
    const days = of.days.map(({ grams, hours: worked }, at) =>
      day(`day ${at}`, on(at), grams === 0 ? null : kg(grams), worked),
    );
    const lots = of.lots.map(({ at, dryG }, n) => ({
      id: `lot ${n}`,
      code: `lot ${n}`,
      madeOn: on(5 + at),
      dryMassKg: kg(dryG),
      ownerName: null,
    }));
    const batches = of.batches.map((one, n) =>
      batch({
        id: `batch ${n}`,
        lotId: `lot ${one.lot % lots.length}`,
        dryMassKg: kg(one.dryG),
        inWorkOn: on(one.start),
        finishedOn: one.lasts === null ? null : on(one.start + one.lasts),
        costOn: on(one.start + (one.lasts ?? 0)),
        cost: costOf([hours(one.hours)]),
      }),
    );
    const made = of.batches.flatMap(({ golds, start, lasts, lot }, n) =>
      golds.map((gold, at) =>
        product({
          id: `product ${n} ${at}`,
          kind: at === 2 ? 'matte' : 'bar',
          batchId: `batch ${n}`,
          lotId: `lot ${lot % lots.length}`,
          madeOn: on(start + (lasts ?? 3)),
          massKg: '0.1',
          goldG: gold === null ? null : String(gold),
          silverG: gold === null ? null : '1',
        }),
      ),
    );
    const statements = of.batches.flatMap(({ soldAfter, start, lasts, golds }, n): BookedStatement[] =>
      soldAfter === null || golds.length === 0
        ? []
        : [
            {
              id: `statement ${n}`,
              number: `S-${n}`,
              stage: 'final',
              issuedOn: on(start + (lasts ?? 3) + soldAfter),
              productId: `product ${n} 0`,
              productCode: '',
              buyerName: '',
              millSells: true,
              currency: 'USD',
              brings: '1000.00',
              productionTaxes: [],
              lines: [{ id: 'payable/Au', section: 'payable', label: '', amount: '1000.00', result: null }],
            },
          ],
    );
    const records: BookRecords = {
      ...emptyRecords(to),
      days: dated(days, (one) => one.day),
      lots: dated(lots, ({ madeOn }) => madeOn),
      lotParts: dated(
        of.lots.map(({ ofDay, partG, at }, n) => ({
          id: `part ${n}`,
          lotId: `lot ${n}`,
          lotCode: '',
          source: 'day' as const,
          sourceId: `day ${ofDay % days.length}`,
          sourceCode: '',
          dryMassKg: kg(partG),
          takenOn: on(5 + at),
        })),
        ({ takenOn }) => takenOn,
      ),
      lotPurchases: dated(
        of.lots.flatMap(({ bought, at }, n) =>
          bought === null
            ? []
            : [
                {
                  lotId: `lot ${n}`,
                  lotCode: '',
                  amount: (bought / 100).toFixed(2),
                  currency: 'USD',
                  boughtOn: on(5 + at + (bought % 40)),
                  paidOn: on(5 + at),
                  supplier: '',
                  document: '',
                },
              ],
        ),
        ({ boughtOn }) => boughtOn,
      ),
      testSmelts: dated(
        of.lots.map(({ smeltG, at }, n) => ({
          id: `smelt ${n}`,
          lotId: `lot ${n}`,
          lotCode: '',
          smeltedOn: on(7 + at),
          sampleMassG: String(smeltG + 1),
        })),
        ({ smeltedOn }) => smeltedOn,
      ),
      batches: dated(batches, ({ inWorkOn }) => inWorkOn ?? ''),
      writeOffs: dated(
        of.lots.map(({ lostG, at }, n) => ({
          id: `off ${n}`,
          of: 'lot' as const,
          sourceId: `lot ${n}`,
          code: '',
          writtenOffOn: on(9 + at),
          massKg: kg(lostG + 1),
          reason: 'spilled',
        })),
        ({ writtenOffOn }) => writtenOffOn,
      ),
    };
    return { records, products: made, statements: dated(statements, ({ issuedOn }) => issuedOn) };
  }

  it('balance entry by entry, tie stocks to accounts, and go on where they stopped', () => {
    fc.assert(
      fc.property(mill, fc.integer({ min: 1, max: 70 }), (of, split) => {
        const period = (from: string, to: string): PeriodBooks => {
          const facts: PeriodBooksFacts = {
            ...recordsOf(of, to),
            splitOf: () => null,
            pricePerG: (metal) => prices[metal],
            rates: rateBook({ millCurrency: 'USD', rates: [] }),
          };
          return periodBooks({
            ...facts,
            from,
            to,
            all: allBooks(facts),
            frozen: [],
            corrections: [],
            realizableOn: () => (place, massKg) =>
              place.kind === 'lot' ? { value: new Dec(massKg).times(3).toFixed(2), remark: '' } : unknown,
          });
        };
        const [first, second] = [period(on(0), on(split)), period(on(split + 1), on(120))];
        for (const books of [first, second]) {
          for (const { lines } of books.entries)
            expect(sumOf(lines.flatMap(({ debit, credit }) => [debit, `-${credit}`])).isZero()).toBe(true);
          expect(sumOf(books.trial.map(({ closing }) => closing)).isZero()).toBe(true);
          for (const account of [
            'inventory-concentrate',
            'work-in-progress',
            'inventory-bars',
            'inventory-by-products',
          ])
            expect([
              account,
              sumOf(
                books.inventories.filter((item) => item.account === account).map(({ carrying }) => carrying),
              ).toFixed(2),
            ]).toEqual([account, books.trial.find((row) => row.account === account)?.closing ?? '0.00']);
        }
        const opening = new Map(second.trial.map((row) => [row.account, row.opening]));
        for (const { account, closing } of first.trial)
          if (isBalanceSheetAccount(account) && account !== 'opening-balance')
            expect([account, opening.get(account) ?? '0.00']).toEqual([account, closing]);
      }),
      { numRuns: 150 },
    );
  });
});
