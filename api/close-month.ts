import { sql, type Kysely } from 'kysely';
import { closedJournal } from './accountant-books.ts';
import { figureOf } from './calc/books/book-entry.ts';
import { monthResult } from './calc/books/month-figures.ts';
import {
  booksByMonth,
  daysOf,
  entriesOfMonth,
  firstOpenMonth,
  monthAfter,
  openCorrections,
} from './month-books.ts';
import { openMonthReport } from './month-document.ts';
import type { ListedMonth, Months } from './schemas/month.ts';
import { Refused } from '../db/queries/changed.ts';
import { keepJournal } from '../db/queries/closed-journals.ts';
import { closedMonths, firstOf, recordedMonths, type ClosedMonth } from '../db/queries/closed-months.ts';
import { inTransaction } from '../db/queries/in-transaction.ts';
import { findMill } from '../db/queries/mill.ts';
import { goldMadeG, monthWords } from '../reports/model/month-words.ts';
import type { Database } from '../db/schema.ts';

/** Two who close at once wait for each other. */
const CLOSING_LOCK = 7_031_107;

/** The first month with anything in it that is not closed; null where there is none. */
async function nextToClose(db: Kysely<Database>): Promise<string | null> {
  const from = await firstOpenMonth(db);
  return (await recordedMonths(db, from ?? undefined))?.first ?? null;
}

/** Why a month cannot be closed, as a sentence goes on after its name; null: it can. */
function whyNot(
  month: string,
  { closed, next, today }: { closed: readonly ClosedMonth[]; next: string | null; today: string },
): string | null {
  const known = closed.find((one) => one.month === month);
  if (known !== undefined) return `was closed on ${known.closedOn} by ${known.closedBy}`;
  if (daysOf(month).to >= today) return `is not over yet: it can be closed after ${daysOf(month).to}`;
  if (closed.length === 0 && (next === null || month < next))
    return 'lies before the first month of the books';
  if (next !== null && next < month)
    return `cannot be closed before ${monthWords(next)}, which is still open`;
  return null;
}

/** The months of a year with their state and lead figures, newest first; without a year, the newest recorded. */
export async function listMonths(db: Kysely<Database>, today: string, asked?: number): Promise<Months> {
  const { currency } = await findMill(db);
  const recorded = await recordedMonths(db);
  const thisMonth = today.slice(0, 7);
  const first = recorded?.first ?? thisMonth;
  const last = recorded !== null && recorded.last > thisMonth ? recorded.last : thisMonth;
  const yearOf = (month: string): number => Number(month.slice(0, 4));
  const years = Array.from({ length: yearOf(last) - yearOf(first) + 1 }, (_, at) => yearOf(last) - at);
  const year =
    asked ?? years.find((one) => recorded !== null && one <= yearOf(recorded.last)) ?? yearOf(last);
  const from = `${year}-01` > first ? `${year}-01` : first;
  const to = `${year}-12` < last ? `${year}-12` : last;
  if (from > to) return { currency, years, year, months: [] };
  const months = await booksByMonth(db, { from: daysOf(from).from, to: daysOf(to).to }, today);
  const closed = await closedMonths(db);
  const next = await nextToClose(db);
  return {
    currency,
    years,
    year,
    months: [...months].toReversed().map(([month, { entryCount, figures, corrections }]): ListedMonth => {
      const { settled, costs, netValue } = monthResult(figures);
      const known = closed.find((one) => one.month === month);
      return {
        month,
        closed: known === undefined ? null : { on: known.closedOn, by: known.closedBy },
        cannotCloseBecause: known === undefined ? whyNot(month, { closed, next, today }) : null,
        entries: entryCount,
        corrections: corrections.length,
        batches: figureOf(figures, 'batches').toFixed(),
        feedDryT: figureOf(figures, 'feedDryT').toFixed(),
        goldMadeG: goldMadeG(figures),
        settled,
        costs,
        netValue,
      };
    }),
  };
}

/**
 * Closes a month: what it counts and its report are kept as they are. Refused until it is over, and until every month
 * before it in which anything is recorded is closed; months with nothing in them are closed along with it.
 */
export async function closeMonth(
  db: Kysely<Database>,
  month: string,
  today: string,
  closedBy: string,
): Promise<void> {
  await inTransaction(db, async (trx) => {
    await sql`select pg_advisory_xact_lock(${CLOSING_LOCK})`.execute(trx);
    const why = whyNot(month, {
      closed: await closedMonths(trx),
      next: await nextToClose(trx),
      today,
    });
    if (why !== null) throw new Refused('/month', `${monthWords(month)} ${why}`);
    const first = (await firstOpenMonth(trx)) ?? month;
    for (let one = first; one <= month; one = monthAfter(one, 1)) await keepMonth(trx, one, today, closedBy);
  });
}

async function keepMonth(trx: Kysely<Database>, month: string, today: string, closedBy: string) {
  const entries = await entriesOfMonth(trx, month);
  const open = await openCorrections(trx, today);
  const corrections = open.corrections.filter((one) => one.month === month);
  const report = await openMonthReport(trx, month, today, { on: today, by: closedBy });
  const journal = await closedJournal(trx, month, today);
  await trx
    .insertInto('closedMonth')
    .values({
      month: firstOf(month),
      closedBy,
      entries: JSON.stringify({
        entries,
        corrections: corrections.map(({ month: _month, ...one }) => one),
      }),
      report: JSON.stringify(report),
    })
    .execute();
  if (journal !== null) await keepJournal(trx, journal);
}
