import { sql, type Kysely } from 'kysely';
import { bookRecords, type DayRange } from './book-records.ts';
import { firstOf, frozenMonths } from './closed-months.ts';
import { workAndKeep } from './kept.ts';
import { monthName, sumFigures, type BookEntry, type Figures } from '../../api/calc/books/book-entry.ts';
import { differingEntries, type Correction, type FrozenMonth } from '../../api/calc/books/corrections.ts';
import { monthEntries } from '../../api/calc/books/month-entries.ts';
import { monthOf } from '../../api/calc/calendar.ts';
import type { Finding } from '../../api/calc/finding.ts';
import type { Database } from '../schema.ts';

/** What a month counts by its records as they are. */
export interface MonthBook {
  entryCount: number;
  /** Sums of its entries. */
  figures: Figures;
  findings: Finding[];
  /** What was frozen where the month is closed; null while it is open. */
  frozen: null | {
    entryCount: number;
    /** Sums of the entries that were frozen. */
    figures: Figures;
    /** Corrections of earlier months that were frozen with it. */
    corrections: Correction[];
    /** By key, what entries say now less what was frozen of them. */
    differing: Record<string, Figures>;
  };
}

/**
 * The books of months named `2026-07`: taken from where they are kept, worked and kept where they are not, for about so
 * many milliseconds where a limit is given: months for which there was no time are not among them.
 */
export async function keptBooks(
  db: Kysely<Database>,
  months: readonly string[],
  { withinMs = Infinity }: { withinMs?: number | undefined } = {},
): Promise<Map<string, MonthBook>> {
  const until = performance.now() + withinMs;
  const rows = await db
    .selectFrom('monthBook')
    .select(['month', 'summary'])
    .where('month', '=', sql<string>`any(${months.map(firstOf)}::date[])`)
    .execute();
  const books = new Map(rows.map(({ month, summary }) => [monthName(month), summary as MonthBook]));
  for (const month of months)
    if (!books.has(month) && performance.now() < until) books.set(month, (await workedMonth(db, month)).book);
  return books;
}

/** The entries of months by their records as they are. */
export async function entriesOfMonths(
  db: Kysely<Database>,
  months: readonly string[],
): Promise<Map<string, BookEntry[]>> {
  const rows = await db
    .selectFrom('monthBook')
    .select(['month', 'entries'])
    .where('month', '=', sql<string>`any(${months.map(firstOf)}::date[])`)
    .execute();
  const entries = new Map(rows.map((row) => [monthName(row.month), row.entries as BookEntry[]]));
  for (const month of months)
    if (!entries.has(month)) entries.set(month, (await workedMonth(db, month)).entries);
  return entries;
}

interface Worked {
  entries: BookEntry[];
  book: MonthBook;
}

/** Each month by itself, so that its findings are its own and others are answered between two. */
async function workedMonth(db: Kysely<Database>, month: string): Promise<Worked> {
  const { figures } = await workAndKeep(
    db,
    () => workMonth(db, month),
    async (trx, { entries, book }) => {
      await trx
        .insertInto('monthBook')
        .values({ month: firstOf(month), entries: JSON.stringify(entries), summary: JSON.stringify(book) })
        .onConflict((conflict) => conflict.column('month').doNothing())
        .execute();
    },
  );
  return figures;
}

async function workMonth(db: Kysely<Database>, month: string): Promise<Worked> {
  const [frozen] = await frozenMonths(db, [month]);
  const { entries, figures, findings } = await workedBook(db, monthOf(firstOf(month)));
  return {
    entries,
    book: { entryCount: entries.length, figures, findings, frozen: againstFrozen(frozen, entries) },
  };
}

/** What a range of days counts by its records as they are. */
export async function workedBook(
  db: Kysely<Database>,
  range: DayRange,
): Promise<{ entries: BookEntry[]; figures: Figures; findings: Finding[] }> {
  const { records, findings } = await bookRecords(db, range);
  const worked = monthEntries(records);
  return {
    entries: worked.entries,
    figures: sumFigures(worked.entries.map(({ figures }) => figures)),
    findings: [...findings, ...worked.findings],
  };
}

function againstFrozen(frozen: FrozenMonth | undefined, entries: readonly BookEntry[]): MonthBook['frozen'] {
  if (frozen === undefined) return null;
  return {
    entryCount: frozen.entries.length,
    figures: sumFigures(frozen.entries.map(({ figures }) => figures)),
    corrections: frozen.corrections,
    differing: differingEntries(frozen.entries, entries),
  };
}
