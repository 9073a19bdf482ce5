import { sql, type Kysely } from 'kysely';
import { workAndKeep } from './kept.ts';
import { stockLedgers, type KeptStates, type LedgerBooks } from './stock-ledgers.ts';
import type { StockState } from '../../api/calc/books/moving-average.ts';
import { monthOf } from '../../api/calc/calendar.ts';
import type { Database } from '../schema.ts';

/** What is kept of a month: the stock of every supply at its end. */
interface MonthState {
  supplies: Record<string, StockState>;
}

interface MonthEnd {
  month: { from: string; to: string };
  state: MonthState;
}

/** So many months are walked and kept at a time. */
const MONTHS_AT_ONCE = 12;

/**
 * The stock of every supply at the end of the month before a day, from which its ledger goes on. Taken from where it
 * is kept, and made from the newest kept month before it where it is not.
 */
export async function stocksBefore(
  db: Kysely<Database>,
  books: LedgerBooks,
  day: string,
): Promise<KeptStates> {
  const asked = monthOf(day, -1);
  const kept = await newestKept(db, asked.from);
  if (kept?.month.from === asked.from) return keptStates(kept);
  for (;;) {
    const { figures, kept: isKept } = await workAndKeep(
      db,
      async () => {
        const newest = await newestKept(db, asked.from);
        if (newest?.month.from === asked.from) return { start: newest, ends: [] };
        return { start: newest, ends: await nextMonths(db, books, newest, asked) };
      },
      keepMonths,
    );
    const reached = figures.ends.at(-1) ?? figures.start;
    if (reached === null) return { asOf: asked.to, states: new Map() };
    if (reached.month.from === asked.from) return keptStates(reached);
    if (!isKept) return keptStates((await monthEnds(db, books, reached, asked)).at(-1) ?? reached);
  }
}

function keptStates({ month, state }: MonthEnd): KeptStates {
  return { asOf: month.to, states: new Map(Object.entries(state.supplies)) };
}

async function newestKept(db: Kysely<Database>, upTo: string): Promise<MonthEnd | null> {
  const row = await db
    .selectFrom('monthState')
    .selectAll()
    .where('month', '<=', upTo)
    .orderBy('month', 'desc')
    .limit(1)
    .executeTakeFirst();
  return row === undefined ? null : { month: monthOf(row.month), state: row.state as MonthState };
}

async function keepMonths(trx: Kysely<Database>, { ends }: { ends: MonthEnd[] }): Promise<void> {
  if (ends.length > 0)
    await trx
      .insertInto('monthState')
      .values(ends.map(({ month, state }) => ({ month: month.from, state: JSON.stringify(state) })))
      .onConflict((conflict) => conflict.column('month').doNothing())
      .execute();
}

/** The next months after one, or from the first purchase or count on; none where there was no stock by the month asked for. */
async function nextMonths(
  db: Kysely<Database>,
  books: LedgerBooks,
  newest: MonthEnd | null,
  asked: MonthEnd['month'],
): Promise<MonthEnd[]> {
  const start = newest ?? (await beforeAll(db));
  if (start === null || start.month.from >= asked.from) return [];
  const furthest = monthOf(start.month.from, MONTHS_AT_ONCE);
  return monthEnds(db, books, start, furthest.from < asked.from ? furthest : asked);
}

/** The month before the first purchase or count, with nothing in stock. */
async function beforeAll(db: Kysely<Database>): Promise<MonthEnd | null> {
  const { rows } = await sql<{
    first: string | null;
  }>`select least((select min(bought_on) from supply_purchase),
    (select min(counted_on) from supply_count))::text as first`.execute(db);
  const first = rows[0]?.first ?? null;
  return first === null ? null : { month: monthOf(first, -1), state: { supplies: {} } };
}

/** The states at the ends of the months after one, up to another, in one walk through the movements. */
async function monthEnds(
  db: Kysely<Database>,
  books: LedgerBooks,
  start: MonthEnd,
  last: MonthEnd['month'],
): Promise<MonthEnd[]> {
  const { ledgers } = await stockLedgers(db, books, { from: keptStates(start), upTo: last.to });
  const ends: MonthEnd[] = [];
  for (let month = monthOf(start.month.from, 1); month.from <= last.from; month = monthOf(month.from, 1))
    ends.push({ month, state: { supplies: {} } });
  for (const [supplyId, { entries }] of ledgers) {
    let state = start.state.supplies[supplyId];
    let next = 0;
    for (const end of ends) {
      for (; (entries[next]?.on ?? '9999') <= end.month.to; next += 1) state = entries[next]?.after;
      if (state !== undefined) end.state.supplies[supplyId] = state;
    }
  }
  return ends;
}
