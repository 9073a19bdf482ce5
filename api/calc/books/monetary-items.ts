import { Dec, sumOf, type DecimalNumber } from '../money.ts';
import { halfUp, roundedText } from '../rounding.ts';
import type { AccountKindName } from './account-kinds.ts';
import type { BookRecords } from './book-records.ts';
import { journalEntry, type JournalEntry } from './journal.ts';
import type { RateBook } from './rate-book.ts';
import { bookedOn, ROUNDING_ACCOUNT, type StatementBooking } from './statement-entries.ts';

/** Money that is owed to the mill or, below zero, by it. Decimal texts. */
export interface MonetaryItem {
  /** The record that it comes from. */
  key: string;
  statementId: string | null;
  account: AccountKindName;
  document: string;
  counterparty: string;
  /** Day of the statement or purchase. */
  since: string;
  currency: string;
  /** In `currency`. */
  total: string;
  paid: string;
  open: string;
  /** What the journal holds of it, at the rate of its day. */
  booked: string;
  /** Open at the rate of the closing day; in the mill's own currency what is booked. */
  carried: string;
}

type Facts = {
  bookings: readonly StatementBooking[];
  records: Pick<BookRecords, 'payments' | 'supplyPurchases' | 'lotPurchases' | 'expenses'>;
  rates: RateBook;
};
type Open = Omit<MonetaryItem, 'carried'>;

/**
 * What buyers and suppliers and the mill owe each other at the end of a day, with what it is carried at: foreign money
 * at the closing rate. Royalties, taxes and wages stay at the rate of their statement or day: nothing says in which
 * currency they will be paid. Cash is taken as changed into the mill's currency on the day it came.
 * Source: IAS 21 The Effects of Changes in Foreign Exchange Rates §8 (monetary items), §23(a) (closing rate).
 */
export function monetaryItemsOn(facts: Facts, on: string): MonetaryItem[] {
  return [...dueByStatements(facts, on), ...heldBack(facts, on), ...owedForPurchases(facts, on)]
    .map((item) => ({
      ...item,
      // In the mill's own currency what was booked is what is open.
      carried:
        facts.rates.rateOn(item.currency, on) === null
          ? item.booked
          : facts.rates.told(item.open, item.currency, on),
    }))
    .filter(({ open, booked }) => !new Dec(open).isZero() || !new Dec(booked).isZero());
}

function dueByStatements({ bookings, records, rates }: Facts, on: string): Open[] {
  const issued = bookings.filter(({ statement }) => statement.issuedOn <= on);
  const issuedOn = new Map(issued.map(({ statement }) => [statement.id, statement.issuedOn]));
  const paid = new Map<string, DecimalNumber>();
  for (const { statementId, paidOn, countsAs } of records.payments)
    // What was paid before the statement counts on its day.
    if (paidOn <= on && issuedOn.has(statementId))
      paid.set(statementId, (paid.get(statementId) ?? new Dec(0)).plus(countsAs));
  return issued.map(({ statement, due, dueBooked, dueAccount }) => {
    const settled = paid.get(statement.id) ?? new Dec(0);
    const paidOf = dueAccount === 'receivable' ? settled : settled.negated();
    const rate = rates.rateOn(statement.currency, statement.issuedOn)?.rate ?? '1';
    const freed = new Dec(roundedText(settled.times(rate), halfUp(2))).times(
      dueAccount === 'receivable' ? 1 : -1,
    );
    return {
      key: `statement:${statement.id}`,
      statementId: statement.id,
      account: dueAccount,
      document: statement.number,
      counterparty: statement.buyerName,
      since: statement.issuedOn,
      currency: statement.currency,
      total: due,
      paid: paidOf.toFixed(2),
      open: new Dec(due).minus(paidOf).toFixed(2),
      booked: new Dec(dueBooked).minus(freed).toFixed(2),
    };
  });
}

/** What is kept until later, under the last statement on each product. */
function heldBack({ bookings }: Facts, on: string): Open[] {
  const held = new Map<string, { last: StatementBooking; open: DecimalNumber; booked: DecimalNumber }>();
  for (const booking of bookings) {
    if (booking.statement.issuedOn > on) continue;
    const account = heldBackAccount(booking);
    const before = held.get(booking.statement.productId);
    held.set(booking.statement.productId, {
      last: booking,
      open: (before?.open ?? new Dec(0)).plus(booking.change.get(account) ?? 0),
      booked: (before?.booked ?? new Dec(0)).plus(bookedOn(booking, account)),
    });
  }
  return [...held.values()].map(({ last, open, booked }) => ({
    key: `held-back:${last.statement.productId}`,
    statementId: null,
    account: heldBackAccount(last),
    document: last.statement.number,
    counterparty: last.statement.buyerName,
    since: last.statement.issuedOn,
    currency: last.statement.currency,
    total: open.toFixed(2),
    paid: '0.00',
    open: open.toFixed(2),
    booked: booked.toFixed(2),
  }));
}

function heldBackAccount({ statement }: StatementBooking): AccountKindName {
  return statement.millSells ? 'receivable-held-back' : 'payable-suppliers';
}

function owedForPurchases({ records, rates }: Facts, on: string): Open[] {
  const bought = [
    ...records.supplyPurchases.map((one) => ({ ...one, key: `purchase:${one.id}`, day: one.boughtOn })),
    ...records.lotPurchases.map((one) => ({ ...one, key: `lot-purchase:${one.lotId}`, day: one.boughtOn })),
    ...records.expenses.map((one) => ({
      ...one,
      key: `expense:${one.id}`,
      day: one.spentOn,
      supplier: one.payee,
    })),
  ];
  return bought
    .filter(({ day, paidOn }) => day <= on && (paidOn === null || paidOn > on))
    .map(({ key, day, document, supplier, currency, amount }) => ({
      key,
      statementId: null,
      account: 'payable-suppliers',
      document,
      counterparty: supplier,
      since: day,
      currency,
      total: new Dec(amount).negated().toFixed(2),
      paid: '0.00',
      open: new Dec(amount).negated().toFixed(2),
      booked: new Dec(rates.told(amount, currency, day)).negated().toFixed(2),
    }));
}

/** What foreign money has gained or lost since it was booked (IAS 21 §28); null where it is nothing. */
export function revaluationEntry({
  items,
  on,
  key,
}: {
  items: readonly MonetaryItem[];
  on: string;
  key: string;
}): JournalEntry | null {
  const changes = items.map(({ account, carried, booked, document }) => ({
    account,
    memo: document,
    change: new Dec(carried).minus(booked),
  }));
  return journalEntry({
    key,
    on,
    document: 'exchange',
    description: 'Open amounts in other currencies at the closing rate',
    rate: null,
    roundingAccount: ROUNDING_ACCOUNT,
    postings: [
      ...changes.map(({ account, memo, change }) => ({ account, memo, amount: change.toFixed(2) })),
      {
        account: 'exchange-difference' satisfies AccountKindName,
        amount: sumOf(changes.map(({ change }) => change))
          .negated()
          .toFixed(2),
      },
    ],
  });
}
