import { setImmediate as turn } from 'node:timers/promises';
import type { Kysely } from 'kysely';
import { realizablesOn } from './accountant-realizable.ts';
import { addDays } from './calc/calendar.ts';
import type { Finding } from './calc/finding.ts';
import { figuresLess, sumFigures } from './calc/books/book-entry.ts';
import type { JournalEntry } from './calc/books/journal.ts';
import type { FrozenJournal } from './calc/books/journal-corrections.ts';
import { periodBooks, type PeriodBooks } from './calc/books/period-books.ts';
import { allBooks, type AllBooks } from './calc/books/period-journal.ts';
import { rateBook, type RateBook } from './calc/books/rate-book.ts';
import { receivablesByAge } from './calc/books/receivables-by-age.ts';
import type { BookRecords } from './calc/books/book-records.ts';
import { Dec, sumOf, type DecimalNumber } from './calc/money.ts';
import { metalValueOf, splitChange, type SettlementChange } from './calc/settlement/split-change.ts';
import { gramsPerTroyOunce } from './calc/units.ts';
import { frozenJournalOf, openJournalCorrections } from './closed-journal.ts';
import { booksByMonth, daysOf } from './month-books.ts';
import { Problem } from './problem.ts';
import { listAccountCodes } from '../db/queries/account-codes.ts';
import { bookRecords } from '../db/queries/book-records.ts';
import { bookProducts } from '../db/queries/book-sales.ts';
import { bookedStatements, recordedTotals, statementDueDays } from '../db/queries/booked-statements.ts';
import { frozenJournals } from '../db/queries/closed-journals.ts';
import { closedMonths } from '../db/queries/closed-months.ts';
import { findMill } from '../db/queries/mill.ts';
import { quotationSeries } from '../db/queries/quotations.ts';
import { findStatements } from '../db/queries/statements.ts';
import type {
  AccountantInput,
  AgedMonetaryItem,
  KnownTotal,
  ReportedMonth,
} from '../reports/model/accountant-input.ts';
import type { Database } from '../db/schema.ts';

export interface Period {
  from: string;
  to: string;
}

/** No record of a mill is older, and none newer. */
const FIRST_DAY = '1000-01-01';
const LAST_DAY = '9999-12-31';

/** The books of a period with what they were made of. */
interface WorkedBooks {
  books: PeriodBooks;
  all: AllBooks;
  frozen: FrozenJournal[];
  corrections: JournalEntry[];
  records: BookRecords;
  rates: RateBook;
  /** What the ledgers of supplies had to say. */
  findings: Finding[];
}

async function workedBooks(
  db: Kysely<Database>,
  { from, to, today, currency }: Period & { today: string; currency: string },
): Promise<WorkedBooks> {
  const { records, findings } = await bookRecords(db, { from: FIRST_DAY, to }, { withStatements: false });
  await turn();
  const statements = await bookedStatements(db, to);
  const products = await bookProducts(db, { from: FIRST_DAY, to: LAST_DAY });
  await turn();
  const frozen = await frozenJournals(db);
  const firstFrozen = daysOf(frozen[0]?.month ?? '9999-12').from;
  const compared = firstFrozen < from ? firstFrozen : from;
  const splits = await metalSplits(
    db,
    statements.filter(({ issuedOn }) => issuedOn >= compared),
  );
  const rates = rateBook({ millCurrency: currency, rates: await allRates(db, to) });
  const facts = {
    records,
    statements,
    products,
    splitOf: (id: string) => splits.get(id) ?? null,
    pricePerG: await pricesPerG(db, currency, to),
    rates,
  };
  const all = allBooks(facts);
  await turn();
  const corrections = await openJournalCorrections(db, { frozen, current: all.entries, to, today });
  const realizableOn = await realizablesOn(db, { ...facts, moves: all.moves }, [addDays(from, -1), to]);
  await turn();
  const books = periodBooks({ ...facts, from, to, all, realizableOn, frozen, corrections });
  return { books, all, frozen, corrections, records, rates, findings };
}

/** The journal of a month that is about to be closed, to be kept; null where a rate is missing: then there is none. */
export async function closedJournal(
  db: Kysely<Database>,
  month: string,
  today: string,
): Promise<FrozenJournal | null> {
  const { currency } = await findMill(db);
  const { books, all, corrections, rates } = await workedBooks(db, { ...daysOf(month), today, currency });
  if (rates.findings().length > 0) return null;
  return frozenJournalOf(month, { all: all.entries, corrections, entries: books.entries });
}

/** What is doubtful over and over, such as a price that is missing on every day, would hide all else. */
const MOST_REMARKS = 30;

/** So many statements are read and held together. */
const READ_TOGETHER = 20;

/** Everything that the accountant's tables of a period are made of. */
export async function accountantInput(
  db: Kysely<Database>,
  { from, to, madeOn }: Period & { madeOn: string },
): Promise<AccountantInput> {
  const mill = await findMill(db);
  const worked = await workedBooks(db, { from, to, today: madeOn, currency: mill.currency });
  const { books, records, findings, rates } = worked;
  const missing = rates.findings();
  if (missing.length > 0)
    throw new Problem('validation', missing.map(({ sentence }) => sentence).join(' '), {
      errors: missing.map(({ sentence }) => ({ pointer: '/to', detail: sentence })),
    });
  const inPeriod = (day: string): boolean => day >= from && day <= to;
  const journalsKept = worked.frozen.map(({ month }) => month);
  const input: AccountantInput = {
    millName: mill.name,
    isDemo: mill.isDemo,
    currency: mill.currency,
    madeOn,
    books,
    accounts: await listAccountCodes(db),
    supplies: records.supplies,
    supplyPurchases: records.supplyPurchases.filter(({ boughtOn }) => inPeriod(boughtOn)),
    lotPurchases: records.lotPurchases.filter(({ boughtOn }) => inPeriod(boughtOn)),
    expenses: records.expenses.filter(({ spentOn }) => inPeriod(spentOn)),
    openItems: await agedItems(db, books),
    known: [],
    reported: await reportedMonths(db, { from, to, today: madeOn, journalsKept }),
    remarks: remarksOf(
      records,
      findings.map(({ sentence }) => sentence),
      inPeriod,
    ),
    closedMonths: await closedMonths(db),
    journalsKept,
  };
  return { ...input, known: await knownTotals(db, input, records) };
}

async function allRates(db: Kysely<Database>, to: string) {
  return db
    .selectFrom('exchangeRate')
    .select(['currency', 'ratedOn', 'rate'])
    .where('ratedOn', '<=', to)
    .execute();
}

/** Later statements against those that they follow. */
async function metalSplits(
  db: Kysely<Database>,
  statements: readonly { id: string; supersedesId: string | null }[],
): Promise<Map<string, SettlementChange | null>> {
  const splits = new Map<string, SettlementChange | null>();
  const later = statements.filter(({ supersedesId }) => supersedesId !== null);
  for (let from = 0; from < later.length; from += READ_TOGETHER) {
    const some = later.slice(from, from + READ_TOGETHER);
    const read = await findStatements(
      db,
      some.flatMap(({ id, supersedesId }) => [id, supersedesId ?? '']),
    );
    for (const { id, supersedesId } of some) {
      const previous = read.get(supersedesId ?? '')?.kept.settlementInput;
      const next = read.get(id)?.kept.settlementInput;
      if (previous === undefined || next === undefined) continue;
      splits.set(id, splitChange({ previous, next, worthOf: metalValueOf }));
      await turn();
    }
  }
  return splits;
}

/** Value of a gram by the last quotation per troy ounce in the mill's currency. */
async function pricesPerG(
  db: Kysely<Database>,
  currency: string,
  to: string,
): Promise<(metal: 'Au' | 'Ag', on: string) => DecimalNumber | null> {
  const series = {
    Au: await quotationSeries(db, { metal: 'Au', currency, unit: 'ozt', to }),
    Ag: await quotationSeries(db, { metal: 'Ag', currency, unit: 'ozt', to }),
  };
  return (metal, on) => {
    const last = series[metal].findLast(({ date }) => date <= on);
    return last === undefined ? null : new Dec(last.price).div(gramsPerTroyOunce);
  };
}

/** What is open at the end, with when it is due and how long it has been. */
async function agedItems(db: Kysely<Database>, { monetary, to }: PeriodBooks): Promise<AgedMonetaryItem[]> {
  const dueDays = await statementDueDays(
    db,
    monetary.flatMap(({ statementId }) => statementId ?? []),
  );
  return monetary.map((item) => {
    const dueOn = item.statementId === null ? null : (dueDays.get(item.statementId) ?? null);
    const [aged] = receivablesByAge([{ ...item, dueOn }], to);
    return { ...item, dueOn, age: aged?.age ?? 'not yet due', daysOverdue: aged?.daysOverdue ?? 0 };
  });
}

/** What the reports of the whole months of a period say. */
async function reportedMonths(
  db: Kysely<Database>,
  { from, to, today, journalsKept }: Period & { today: string; journalsKept: readonly string[] },
): Promise<ReportedMonth[]> {
  const months = await booksByMonth(db, { from, to }, today);
  const unkept = (await closedMonths(db)).flatMap(({ month }) => (journalsKept.includes(month) ? [] : month));
  return [...months].flatMap(([month, { figures, corrections }]) => {
    const days = daysOf(month);
    if (days.from < from || days.to > to || unkept.includes(month)) return [];
    // What was closed without a journal is booked as it stands, on its own days, and not corrected here.
    const others = corrections.filter(({ corrects }) => unkept.includes(corrects));
    return [{ month, figures: figuresLess(figures, sumFigures(others.map(({ difference }) => difference))) }];
  });
}

/** What could not be costed or is short, of what happened in the period. */
function remarksOf(
  records: BookRecords,
  findings: readonly string[],
  inPeriod: (day: string) => boolean,
): string[] {
  const missing = [
    ...records.days
      .filter(({ day }) => inPeriod(day))
      .flatMap(({ day, cost }) => cost.missing.map((one) => `${day}: ${one}`)),
    ...records.batches
      .filter(({ status, costOn }) => status === 'done' && inPeriod(costOn))
      .flatMap(({ code, cost }) => cost.missing.map((one) => `Batch ${code}: ${one}`)),
  ];
  const all = [...new Set([...missing, ...findings])];
  const shown = all.slice(0, MOST_REMARKS).map((sentence) => `To look at: ${sentence}`);
  const left = all.length - shown.length;
  return left === 0
    ? shown
    : [...shown, `To look at: ${left} more of the kind, which stand in the reports of the months.`];
}

/** Sums that the database makes by itself, beside what the sheets say. */
async function knownTotals(
  db: Kysely<Database>,
  { books, supplyPurchases, lotPurchases, expenses }: AccountantInput,
  records: BookRecords,
): Promise<KnownTotal[]> {
  const { from, to } = books;
  const of = (rows: readonly { currency: string; amount: string }[], currency: string): string =>
    sumOf(rows.filter((row) => row.currency === currency).map(({ amount }) => amount)).toFixed(2);
  const ofPeriod = books.bookings.filter(({ statement }) => statement.issuedOn >= from);
  const byId = new Map(books.bookings.map((booking) => [booking.statement.id, booking]));
  const ours = {
    statements: ofPeriod.map(({ statement, due }) => ({ currency: statement.currency, amount: due })),
    payments: records.payments.flatMap(({ statementId, paidOn, countsAs }) => {
      const booking = byId.get(statementId);
      if (booking === undefined) return [];
      const on = paidOn < booking.statement.issuedOn ? booking.statement.issuedOn : paidOn;
      const amount = booking.dueAccount === 'receivable' ? countsAs : `-${countsAs}`;
      return on >= from ? [{ currency: booking.statement.currency, amount }] : [];
    }),
    supplies: supplyPurchases,
    lots: lotPurchases,
    expenses,
  };
  const words = {
    statements: 'Statements of the period, as printed',
    payments: 'Payments on statements',
    supplies: 'Supplies bought',
    lots: 'Concentrate bought',
    expenses: 'Expenses',
  };
  return (await recordedTotals(db, { from, to })).map(({ what, currency, amount }) => ({
    what: words[what],
    source: 'Records, added up by the database',
    currency,
    amount,
    ours: of(ours[what], currency),
  }));
}
