import type { Kysely } from 'kysely';
import { monthName, type BookEntry } from './calc/books/book-entry.ts';
import { correctionsOf, shownIn, type Correction, type FrozenMonth } from './calc/books/corrections.ts';
import { monthEntries } from './calc/books/month-entries.ts';
import { monthOf } from './calc/calendar.ts';
import type { Finding } from './calc/finding.ts';
import { bookRecords } from '../db/queries/book-records.ts';
import { closedMonths, frozenMonths, lastChanges } from '../db/queries/closed-months.ts';
import type { Database } from '../db/schema.ts';

/** A correction with the month that it shows in, and when and by whom the record behind it was last changed. */
export type ShownCorrection = Correction & {
  month: string;
  changedOn: string | null;
  changedBy: string | null;
};

/** First and last day of a month named `2026-07`, or of one so many months later. */
export function daysOf(month: string, monthsAfter = 0): { from: string; to: string } {
  return monthOf(`${month}-01`, monthsAfter);
}

/** The month so many months after. */
export function monthAfter(month: string, months: number): string {
  return monthName(daysOf(month, months).from);
}

/** Corrections of closed months that no month has frozen yet, each with the open month that it shows in. */
export async function openCorrections(db: Kysely<Database>, today: string): Promise<ShownCorrection[]> {
  const frozen = await frozenMonths(db);
  const [first, last] = [frozen[0], frozen.at(-1)];
  if (first === undefined || last === undefined) return [];
  const { records } = await bookRecords(db, { from: daysOf(first.month).from, to: daysOf(last.month).to });
  const corrections = correctionsOf({ frozen, current: monthEntries(records).entries });
  if (corrections.length === 0) return [];
  const changes = await lastChanges(
    db,
    corrections.map(({ ref }) => ref),
    await closedSince(db),
  );
  const firstOpen = monthAfter(last.month, 1);
  return corrections.map((one) => {
    const change = changes.get(one.ref.id);
    const changedOn = change === undefined ? null : change.changedOn < today ? change.changedOn : today;
    return {
      ...one,
      month: shownIn(changedOn, firstOpen),
      changedOn,
      changedBy: change?.changedBy ?? null,
    };
  });
}

/** The moment of the first closing: what was changed before it was in the months that were closed. */
async function closedSince(db: Kysely<Database>): Promise<string> {
  const { at } = await db
    .selectFrom('closedMonth')
    .select(({ fn }) => fn.min('closedAt').as('at'))
    .executeTakeFirstOrThrow();
  return at;
}

export interface MonthBooks {
  entries: BookEntry[];
  corrections: ShownCorrection[];
}

/**
 * What each month of a span counts: of a closed one what it froze, of an open one the entries of its records and the
 * corrections of closed months that show in it.
 */
export async function booksByMonth(
  db: Kysely<Database>,
  span: { from: string; to: string },
  today: string,
): Promise<{ months: Map<string, MonthBooks>; findings: Finding[] }> {
  const frozen = new Map((await frozenMonths(db)).map((one): [string, FrozenMonth] => [one.month, one]));
  const { records, findings } = await bookRecords(db, span);
  const worked = monthEntries(records);
  const open = await openCorrections(db, today);
  const months = new Map<string, MonthBooks>();
  for (let month = monthName(span.from); month <= monthName(span.to); month = monthAfter(month, 1)) {
    const closed = frozen.get(month);
    months.set(
      month,
      closed === undefined
        ? {
            entries: worked.entries.filter(({ on }) => monthName(on) === month),
            corrections: open.filter((one) => one.month === month),
          }
        : {
            entries: closed.entries,
            corrections: closed.corrections.map((one) => ({
              ...one,
              month,
              changedOn: null,
              changedBy: null,
            })),
          },
    );
  }
  return { months, findings: [...findings, ...worked.findings] };
}

/** The first month that is still open where an earlier one is closed; null while none is. */
export async function firstOpenMonth(db: Kysely<Database>): Promise<string | null> {
  const last = (await closedMonths(db)).at(-1);
  return last === undefined ? null : monthAfter(last.month, 1);
}
