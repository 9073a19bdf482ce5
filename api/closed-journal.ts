import type { Kysely } from 'kysely';
import { monthName } from './calc/books/book-entry.ts';
import type { JournalEntry } from './calc/books/journal.ts';
import {
  correctionEntry,
  journalCorrections,
  recordOfKey,
  type FrozenJournal,
} from './calc/books/journal-corrections.ts';
import { daysOf, monthAfter } from './month-books.ts';
import { closedMonths, lastChanges } from '../db/queries/closed-months.ts';
import { firstClosingOf } from '../db/queries/closed-journals.ts';
import type { Database } from '../db/schema.ts';

/**
 * Corrections of closed months that no month has booked yet, as entries of the open months that they show in: those of
 * the month report. None where the period ends before the first open month, for they are all booked later.
 */
export async function openJournalCorrections(
  db: Kysely<Database>,
  facts: {
    frozen: readonly FrozenJournal[];
    current: readonly JournalEntry[];
    /** The last day that `current` goes to. */
    to: string;
    today: string;
  },
): Promise<JournalEntry[]> {
  const { frozen, current, to, today } = facts;
  const last = (await closedMonths(db)).at(-1);
  if (last === undefined || frozen.length === 0) return [];
  const firstOpenMonth = monthAfter(last.month, 1);
  if (to < daysOf(firstOpenMonth).from) return [];
  const corrections = journalCorrections(frozen, current);
  if (corrections.length === 0) return [];
  const changes = await lastChanges(
    db,
    // What follows from a change of another record, such as the cost of what was sold, is named by its own.
    corrections.map(({ key }) => ({ id: recordOfKey(key) })),
    await firstClosingOf(db),
  );
  return corrections.flatMap((one) => {
    const changed = changes.get(recordOfKey(one.key))?.changedOn ?? null;
    const changedOn = changed !== null && changed > today ? today : changed;
    return correctionEntry(one, { changedOn, firstOpenMonth }) ?? [];
  });
}

/** What of a month's books is kept when it is closed. */
export function frozenJournalOf(
  month: string,
  books: {
    all: readonly JournalEntry[];
    corrections: readonly JournalEntry[];
    entries: readonly JournalEntry[];
  },
): FrozenJournal {
  const ofMonth = ({ on }: JournalEntry): boolean => monthName(on) === month;
  const end = (key: string): JournalEntry | null => books.entries.find((one) => one.key === key) ?? null;
  return {
    month,
    entries: books.all.filter(ofMonth),
    corrections: books.corrections.filter(ofMonth),
    writeDown: end('write-down'),
    revaluation: end('revaluation'),
  };
}
