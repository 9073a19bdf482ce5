import { Dec } from '../money.ts';
import type { SettlementChange } from '../settlement/split-change.ts';
import type { DecimalNumber } from '../money.ts';
import type { BookProduct, BookRecords } from './book-records.ts';
import { costEntries, moveEntries, purchaseEntries, stockEntries } from './cost-entries.ts';
import { costFlow, type CostMove } from './cost-flow.ts';
import type { JournalEntry } from './journal.ts';
import type { RateBook } from './rate-book.ts';
import {
  paymentEntry,
  statementEntries,
  type BookedStatement,
  type StatementBooking,
} from './statement-entries.ts';

export interface PeriodBooksFacts {
  /** From the first day of the books to the last of the period. */
  records: BookRecords;
  /** All issued up to the last day, oldest number first. */
  statements: readonly BookedStatement[];
  /** Of all days. */
  products: readonly BookProduct[];
  splitOf: (statementId: string) => SettlementChange | null;
  pricePerG: (metal: 'Au' | 'Ag', on: string) => DecimalNumber | null;
  rates: RateBook;
}

export interface AllBooks {
  entries: JournalEntry[];
  moves: CostMove[];
  bookings: StatementBooking[];
}

/** Books everything that happened up to a day, from the first record on. */
export function allBooks({
  records,
  statements,
  products,
  splitOf,
  pricePerG,
  rates,
}: PeriodBooksFacts): AllBooks {
  const lotCosts = new Map(
    records.lotPurchases.map(({ lotId, amount, currency, boughtOn }) => [
      lotId,
      rates.told(amount, currency, boughtOn),
    ]),
  );
  const moves = costFlow({
    records,
    statements,
    products,
    lotCost: (lotId) => lotCosts.get(lotId) ?? '0',
    pricePerG,
  });
  const chains = new Map<string, BookedStatement[]>();
  for (const statement of statements)
    chains.set(statement.productId, [...(chains.get(statement.productId) ?? []), statement]);
  const bookings = [...chains.values()].flatMap((chain) =>
    statementEntries({ statements: chain, splitOf, rates }),
  );
  const byStatement = new Map(bookings.map((booking) => [booking.statement.id, booking]));
  const settled = new Map<string, DecimalNumber>();
  const payments = records.payments.flatMap((payment) => {
    const booking = byStatement.get(payment.statementId);
    if (booking === undefined) return [];
    const settledBefore = settled.get(payment.statementId) ?? new Dec(0);
    settled.set(payment.statementId, settledBefore.plus(payment.countsAs));
    const entry = paymentEntry({ payment, booking, settledBefore: settledBefore.toFixed(), rates });
    return entry === null ? [] : [entry];
  });
  const productKinds = new Map(products.map(({ id, kind }) => [id, kind]));
  const entries = [
    ...purchaseEntries(records, rates),
    ...stockEntries(records),
    ...costEntries(records),
    ...moveEntries(moves, productKinds),
    ...bookings.flatMap((booking) => booking.entries),
    ...payments,
  ];
  return { entries, moves, bookings };
}
