import { Dec, sumOf, type DecimalNumber } from '../money.ts';
import { halfUp, roundedText } from '../rounding.ts';
import type { SettlementChange } from '../settlement/split-change.ts';
import type { AccountKindName } from './account-kinds.ts';
import type { BookStatement } from './book-records.ts';
import { journalEntry, type JournalEntry, type Posting } from './journal.ts';
import type { RateBook } from './rate-book.ts';
import { SALES, statementPosition, type BookedLine } from './statement-position.ts';

/** A statement as the books take it; its lines may be those with amounts and royalties alone. */
export interface BookedStatement extends Pick<
  BookStatement,
  | 'id'
  | 'number'
  | 'stage'
  | 'issuedOn'
  | 'productId'
  | 'productCode'
  | 'buyerName'
  | 'millSells'
  | 'currency'
  | 'brings'
  | 'productionTaxes'
> {
  lines: readonly BookedLine[];
}

/** What one statement was booked as. */
export interface StatementBooking {
  statement: BookedStatement;
  /** Number of the statement before; null for the first. */
  follows: string | null;
  /** By account in the statement's currency, debit above zero, what is due left out. */
  change: ReadonlyMap<AccountKindName, string>;
  /** What is due by it, above zero to the mill. */
  due: string;
  dueAccount: AccountKindName;
  /** In the mill's currency; signed as `due`. */
  dueBooked: string;
  entries: JournalEntry[];
}

/** Marks what is due by a statement. */
export const DUE = 'due';

/** Where the rounding of a conversion goes. */
export const ROUNDING_ACCOUNT: AccountKindName = 'exchange-difference';

/**
 * Books the statements of one product, in the order of their numbers. The first is booked whole; each later one as what
 * it changes: charges, penalties, royalties and taxes by their differences, the value of the metal split into mass,
 * assay and price (`split`, null where it could not be split: then all of it is another adjustment). What was held back
 * comes free again. What is due is the rest, and equals the statement's total.
 * Source: IFRS 15 Revenue from Contracts with Customers §84–89 (a change of the transaction price is revenue of the
 * period of the change); common practice for provisional pricing.
 */
export function statementEntries({
  statements,
  splitOf,
  rates,
}: {
  statements: readonly BookedStatement[];
  /** Of the value of the metal between a statement and the one before. */
  splitOf: (statementId: string) => SettlementChange | null;
  rates: RateBook;
}): StatementBooking[] {
  const bookings: StatementBooking[] = [];
  let before = new Map<AccountKindName, DecimalNumber>();
  let heldBooked = new Dec(0);
  for (const [at, statement] of statements.entries()) {
    const { currency, issuedOn, number } = statement;
    const { postings, earlier } = statementPosition(statement);
    const change = new Map<AccountKindName, DecimalNumber>();
    const add = (account: AccountKindName, amount: DecimalNumber | string): void => {
      change.set(account, (change.get(account) ?? new Dec(0)).plus(amount));
    };
    for (const account of new Set([...before.keys(), ...postings.keys()]))
      add(account, (postings.get(account) ?? new Dec(0)).minus(before.get(account) ?? 0));
    if (at > 0) splitSales(change, add, statement.millSells ? splitOf(statement.id) : null);
    const sign = statement.millSells ? -1 : 1;
    const paidBefore = sumOf(statements.slice(0, at).map(({ brings }) => brings)).times(-sign);
    add('adjustment-other', earlier.plus(paidBefore).times(sign));

    const named = new Map(
      [...change]
        .filter(([, amount]) => !amount.isZero())
        .map(([account, amount]) => [account, amount.toFixed()]),
    );
    const due = sumOf([...named.values()]).negated();
    const dueAccount: AccountKindName = !due.isNegative()
      ? 'receivable'
      : statement.millSells
        ? 'payable-buyers'
        : 'payable-suppliers';
    const postingsOf: Posting[] = [...named].map(([account, amount]) => ({ account, amount }));
    const rate = rates.rateOn(currency, issuedOn);
    const entry = journalEntry({
      key: `statement:${statement.id}`,
      on: issuedOn,
      document: number,
      description: `${stageWords[statement.stage]} statement ${number} on ${statement.productCode}, ${statement.buyerName}`,
      rate,
      roundingAccount: ROUNDING_ACCOUNT,
      postings: [...postingsOf, { account: dueAccount, amount: due.toFixed(), memo: DUE }],
    });
    const entries = entry === null ? [] : [entry];
    const heldChange = new Dec(named.get('receivable-held-back') ?? 0);
    const held = postings.get('receivable-held-back') ?? new Dec(0);
    const heldNow = heldBooked.plus(rates.told(heldChange.toFixed(), currency, issuedOn));
    if (held.isZero() && !heldNow.isZero()) {
      const exchange = journalEntry({
        key: `held-back-exchange:${statement.id}`,
        on: issuedOn,
        document: number,
        description: `Exchange difference on what was held back before statement ${number}`,
        rate: null,
        roundingAccount: ROUNDING_ACCOUNT,
        postings: [
          { account: 'receivable-held-back', amount: heldNow.negated().toFixed(2) },
          { account: 'exchange-difference', amount: heldNow.toFixed(2) },
        ],
      });
      if (exchange !== null) entries.push(exchange);
      heldBooked = new Dec(0);
    } else heldBooked = heldNow;
    bookings.push({
      statement,
      follows: statements[at - 1]?.number ?? null,
      change: named,
      due: due.toFixed(2),
      dueAccount,
      dueBooked: rates.told(due.toFixed(), currency, issuedOn),
      entries,
    });
    before = postings;
  }
  return bookings;
}

/** What a statement booked on an account beside what is due by it, in the mill's currency, debit above zero. */
export function bookedOn({ entries }: Pick<StatementBooking, 'entries'>, account: string): DecimalNumber {
  return sumOf(
    entries.flatMap(({ lines }) =>
      lines.flatMap((line) =>
        line.account === account && line.memo !== DUE ? [line.debit, `-${line.credit}`] : [],
      ),
    ),
  );
}

const stageWords = {
  provisional: 'Provisional',
  'second-provisional': 'Second provisional',
  final: 'Final',
  adjustment: 'Adjustment by',
} as const;

/** Puts the change of the metal's value on the accounts of adjustments. */
function splitSales(
  change: Map<AccountKindName, DecimalNumber>,
  add: (account: AccountKindName, amount: DecimalNumber | string) => void,
  split: SettlementChange | null,
): void {
  const total = sumOf(SALES.map((account) => change.get(account) ?? new Dec(0)));
  for (const account of SALES) change.delete(account);
  if (total.isZero() && split === null) return;
  const parts =
    split === null ? null : { mass: split.massEffect, assay: split.assayEffect, price: split.priceEffect };
  if (parts !== null) {
    add('adjustment-mass', new Dec(parts.mass).negated());
    add('adjustment-assay', new Dec(parts.assay).negated());
    add('adjustment-price', new Dec(parts.price).negated());
  }
  add('adjustment-other', total.plus(parts === null ? 0 : sumOf(Object.values(parts))));
}

/** A payment, which frees what is due at the rate of its statement; the difference is one of exchange. */
export function paymentEntry({
  payment,
  booking,
  settledBefore,
  rates,
}: {
  payment: {
    id: string;
    paidOn: string;
    amount: string;
    currency: string;
    countsAs: string;
    reference: string;
  };
  booking: StatementBooking;
  /** What earlier payments on the statement count as. */
  settledBefore: string;
  rates: RateBook;
}): JournalEntry | null {
  const { statement, dueAccount } = booking;
  const on = payment.paidOn < statement.issuedOn ? statement.issuedOn : payment.paidOn;
  const toMill = dueAccount === 'receivable' ? 1 : -1;
  // By all that is settled, so that the cents of single payments do not stay on the account.
  const rate = rates.rateOn(statement.currency, statement.issuedOn)?.rate ?? '1';
  const at = (amount: DecimalNumber): DecimalNumber => new Dec(roundedText(amount.times(rate), halfUp(2)));
  const settled = new Dec(settledBefore).plus(payment.countsAs);
  const freed = at(settled)
    .minus(at(new Dec(settledBefore)))
    .times(toMill);
  const cash = new Dec(rates.told(payment.amount, payment.currency, on)).times(toMill);
  const entry = journalEntry({
    key: `payment:${payment.id}`,
    on,
    document: statement.number,
    description: `Payment on statement ${statement.number}, ${statement.buyerName}${payment.reference === '' ? '' : `, ${payment.reference}`}`,
    rate: null,
    roundingAccount: ROUNDING_ACCOUNT,
    postings: [
      { account: 'cash', amount: cash.toFixed() },
      { account: dueAccount, amount: freed.negated().toFixed() },
      { account: 'exchange-difference', amount: freed.minus(cash).toFixed() },
    ],
  });
  const foreign = rates.rateOn(payment.currency, on);
  return entry === null || foreign === null
    ? entry
    : withForeign(entry, 'cash', { ...foreign, amount: new Dec(payment.amount).times(toMill).toFixed() });
}

/** Says on one account's line what it was in another currency. */
export function withForeign(
  entry: JournalEntry,
  account: AccountKindName,
  foreign: { amount: string; currency: string; rate: string },
): JournalEntry {
  return {
    ...entry,
    lines: entry.lines.map((line) => (line.account === account ? { ...line, foreign } : line)),
  };
}
