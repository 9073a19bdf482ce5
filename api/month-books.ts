import type { Kysely } from 'kysely';
import { monthName, sumFigures, type BookEntry, type Figures } from './calc/books/book-entry.ts';
import { correctedKeys, correctionsOf, shownIn, type Correction } from './calc/books/corrections.ts';
import { monthOf } from './calc/calendar.ts';
import type { Finding } from './calc/finding.ts';
import { closedMonths, frozenMonths, lastChanges } from '../db/queries/closed-months.ts';
import { entriesOfMonths, keptBooks, workedBook, type MonthBook } from '../db/queries/month-books.ts';
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

/** Corrections that were found, and closed months for which there was no time to look. */
interface FoundCorrections<One> {
  corrections: One[];
  pending: number;
}

/**
 * Corrections of closed months that no month has frozen yet, each with the open month that it shows in. With a limit,
 * closed months whose books are not kept are not worked for longer than that.
 */
export async function openCorrections(
  db: Kysely<Database>,
  today: string,
  waits: { withinMs?: number | undefined } = {},
): Promise<FoundCorrections<ShownCorrection>> {
  const closed = (await closedMonths(db)).map(({ month }) => month);
  const last = closed.at(-1);
  if (last === undefined) return { corrections: [], pending: 0 };
  const { corrections, pending } = await unfrozenCorrections(db, closed, waits);
  if (corrections.length === 0) return { corrections: [], pending };
  const changes = await lastChanges(
    db,
    corrections.map(({ ref }) => ref),
    await closedSince(db),
  );
  const firstOpen = monthAfter(last, 1);
  const shown = corrections.map((one) => {
    const change = changes.get(one.ref.id);
    const changedOn = change === undefined ? null : change.changedOn < today ? change.changedOn : today;
    return {
      ...one,
      month: shownIn(changedOn, firstOpen),
      changedOn,
      changedBy: change?.changedBy ?? null,
    };
  });
  return { corrections: shown, pending };
}

/** Only the months of entries that were corrected are read: the others say what their records say. */
async function unfrozenCorrections(
  db: Kysely<Database>,
  closed: readonly string[],
  waits: { withinMs?: number | undefined },
): Promise<FoundCorrections<Correction>> {
  const books = await keptBooks(db, closed, waits);
  const pending = closed.length - books.size;
  const frozen = closed.flatMap((month) => {
    const of = books.get(month)?.frozen;
    return of == null ? [] : [{ month, ...of }];
  });
  const keys = correctedKeys(frozen);
  if (keys.size === 0) return { corrections: [], pending };
  const months = frozen.flatMap(({ month, differing, corrections }) => [
    ...(Object.keys(differing).some((key) => keys.has(key)) ? [month] : []),
    ...corrections.flatMap(({ key, corrects }) => (keys.has(key) ? [corrects] : [])),
  ]);
  const read = [...new Set(months)];
  const whole = new Map((await frozenMonths(db, read)).map((one) => [one.month, one.entries]));
  const current = [...(await entriesOfMonths(db, read)).values()].flat();
  const corrections = correctionsOf({
    frozen: frozen.map(({ month, corrections }) => ({
      month,
      entries: (whole.get(month) ?? []).filter(({ key }) => keys.has(key)),
      corrections: corrections.filter(({ key }) => keys.has(key)),
    })),
    current: current.filter(({ key }) => keys.has(key)),
  });
  return { corrections, pending };
}

/** The moment of the first closing: what was changed before it was in the months that were closed. */
async function closedSince(db: Kysely<Database>): Promise<string> {
  const { at } = await db
    .selectFrom('closedMonth')
    .select(({ fn }) => fn.min('closedAt').as('at'))
    .executeTakeFirstOrThrow();
  return at;
}

/** What a month counts. */
export interface MonthBooks {
  entryCount: number;
  /** Of its entries and of the corrections that show in it. */
  figures: Figures;
  corrections: ShownCorrection[];
  /** Closed months that were not looked through yet for corrections that may show in it. */
  uncorrected: number;
  findings: Finding[];
}

/**
 * What each month of a span counts: of a closed one what it froze, of an open one the entries of its records and the
 * corrections of closed months that show in it. Of an open month that the span has only days of, only those count.
 */
export async function booksByMonth(
  db: Kysely<Database>,
  span: { from: string; to: string },
  today: string,
  waits: { withinMs?: number | undefined } = {},
): Promise<Map<string, MonthBooks>> {
  const names: string[] = [];
  for (let month = monthName(span.from); month <= monthName(span.to); month = monthAfter(month, 1))
    names.push(month);
  const open = await openCorrections(db, today, waits);
  const books = await keptBooks(db, names);
  const months = new Map<string, MonthBooks>();
  for (const month of names) {
    const book = books.get(month);
    if (book === undefined) continue;
    months.set(month, await countedOf(db, { month, book, open, span }));
  }
  return months;
}

async function countedOf(
  db: Kysely<Database>,
  facts: {
    month: string;
    book: MonthBook;
    open: FoundCorrections<ShownCorrection>;
    span: { from: string; to: string };
  },
): Promise<MonthBooks> {
  const { month, book, open, span } = facts;
  if (book.frozen !== null) {
    const { entryCount, figures, corrections } = book.frozen;
    return {
      entryCount,
      figures: withCorrections(figures, corrections),
      corrections: corrections.map((one) => ({ ...one, month, changedOn: null, changedBy: null })),
      uncorrected: 0,
      findings: book.findings,
    };
  }
  const { from, to } = daysOf(month);
  const part = { from: from < span.from ? span.from : from, to: to > span.to ? span.to : to };
  const isWhole = part.from === from && part.to === to;
  const counted = isWhole ? book : await workedBook(db, part);
  const corrections = open.corrections.filter((one) => one.month === month);
  return {
    entryCount: 'entryCount' in counted ? counted.entryCount : counted.entries.length,
    figures: withCorrections(counted.figures, corrections),
    corrections,
    uncorrected: open.pending,
    findings: counted.findings,
  };
}

function withCorrections(figures: Figures, corrections: readonly Correction[]): Figures {
  return sumFigures([figures, ...corrections.map(({ difference }) => difference)]);
}

/** That closed months are still being looked through for corrections. */
export function correctionsPending(months: Iterable<MonthBooks>): Finding[] {
  const pending = Math.max(0, ...[...months].map(({ uncorrected }) => uncorrected));
  return pending === 0
    ? []
    : [
        {
          code: 'corrections-being-worked-out',
          level: 'note',
          path: '/months',
          sentence: `Closed months are being looked through for what was changed since: ${pending} are left. Until then corrections may be missing here.`,
        },
      ];
}

/** The entries of an open month by its records as they are. */
export async function entriesOfMonth(db: Kysely<Database>, month: string): Promise<BookEntry[]> {
  return (await entriesOfMonths(db, [month])).get(month) ?? [];
}

/** The first month that is still open where an earlier one is closed; null while none is. */
export async function firstOpenMonth(db: Kysely<Database>): Promise<string | null> {
  const last = (await closedMonths(db)).at(-1);
  return last === undefined ? null : monthAfter(last.month, 1);
}
