import type { Kysely } from 'kysely';
import type { FrozenJournal } from '../../api/calc/books/journal-corrections.ts';
import type { Database } from '../schema.ts';
import { firstOf } from './closed-months.ts';

/** The journals of closed months as they were when these were closed, oldest first. */
export async function frozenJournals(db: Kysely<Database>): Promise<FrozenJournal[]> {
  const rows = await db.selectFrom('closedMonthJournal').select('journal').orderBy('month').execute();
  return rows.map(({ journal }) => journal as FrozenJournal);
}

export async function keepJournal(db: Kysely<Database>, journal: FrozenJournal): Promise<void> {
  await db
    .insertInto('closedMonthJournal')
    .values({ month: firstOf(journal.month), journal: JSON.stringify(journal) })
    .execute();
}

/** The moment of the first closing that kept a journal: what was changed before it was in the journals. */
export async function firstClosingOf(db: Kysely<Database>): Promise<string> {
  const { at } = await db
    .selectFrom('closedMonth')
    .innerJoin('closedMonthJournal', 'closedMonthJournal.month', 'closedMonth.month')
    .select(({ fn }) => fn.min('closedAt').as('at'))
    .executeTakeFirstOrThrow();
  return at;
}
