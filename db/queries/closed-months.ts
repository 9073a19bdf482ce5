import { sql, type Kysely } from 'kysely';
import type { FrozenMonth } from '../../api/calc/books/corrections.ts';
import type { EntryRef } from '../../api/calc/books/book-entry.ts';
import type { Database } from '../schema.ts';

/** `2026-07` → the first of July. */
export const firstOf = (month: string): string => `${month}-01`;

/** The entries and corrections that those of some months froze that are closed, oldest first. */
export async function frozenMonths(db: Kysely<Database>, months: readonly string[]): Promise<FrozenMonth[]> {
  const rows = await db
    .selectFrom('closedMonth')
    .select(['month', 'entries'])
    .where('month', '=', sql<string>`any(${months.map(firstOf)}::date[])`)
    .orderBy('month')
    .execute();
  return rows.map(({ month, entries }) => ({
    month: month.slice(0, 7),
    ...(entries as Omit<FrozenMonth, 'month'>),
  }));
}

export interface ClosedMonth {
  month: string;
  closedOn: string;
  closedBy: string;
}

/** Which months are closed, oldest first. */
export async function closedMonths(db: Kysely<Database>): Promise<ClosedMonth[]> {
  const rows = await db
    .selectFrom('closedMonth')
    .select(['month', 'closedAt', 'closedBy'])
    .orderBy('month')
    .execute();
  return rows.map(({ month, closedAt, closedBy }) => ({
    month: month.slice(0, 7),
    closedOn: closedAt.slice(0, 10),
    closedBy,
  }));
}

/** A closed month's report as it was frozen; null while the month is open. */
export async function frozenReport(db: Kysely<Database>, month: string): Promise<object | null> {
  const row = await db
    .selectFrom('closedMonth')
    .select('report')
    .where('month', '=', firstOf(month))
    .executeTakeFirst();
  return row?.report ?? null;
}

/** Everything that counts in a month, by the day that it counts on. */
const DATED: readonly (readonly [from: string, ...days: string[]])[] = [
  ['production_day', 'day'],
  ['lot', 'made_on'],
  ['lot_part', 'taken_on'],
  ['lot_purchase', 'bought_on'],
  ['test_smelt', 'smelted_on'],
  ["batch where status in ('running', 'done')", 'started_on', 'finished_on', 'planned_on'],
  ['product', 'made_on'],
  ['shipment', 'shipped_on'],
  ["statement where status = 'issued'", 'issued_on'],
  ['statement_payment', 'paid_on'],
  ['supply_purchase', 'bought_on'],
  ['supply_count', 'counted_on'],
  ['expense', 'spent_on'],
  ['write_off', 'written_off_on'],
];

/** The first and the last month in which anything is recorded, from a month on; null while nothing is. */
export async function recordedMonths(
  db: Kysely<Database>,
  from = '0001-01',
): Promise<{ first: string; last: string } | null> {
  const spans = DATED.flatMap(([source, ...days]) =>
    days.map((day) => {
      const and = source.includes(' where ') ? 'and' : 'where';
      return sql`select min(${sql.raw(day)}), max(${sql.raw(day)}) from ${sql.raw(source)}
        ${sql.raw(and)} ${sql.raw(day)} >= ${firstOf(from)}::date`;
    }),
  );
  const { rows } = await sql<{ first: string | null; last: string | null }>`
    select to_char(min(first), 'YYYY-MM') as first, to_char(max(last), 'YYYY-MM') as last
      from (${sql.join(spans, sql` union all `)}) as spans (first, last)`.execute(db);
  const [span] = rows;
  return span?.first == null || span.last === null ? null : { first: span.first, last: span.last };
}

/** When and by whom the records behind some entries were last changed since a moment, by the table and id of each. */
export async function lastChanges(
  db: Kysely<Database>,
  refs: readonly Pick<EntryRef, 'id'>[],
  since: string,
): Promise<Map<string, { changedOn: string; changedBy: string }>> {
  if (refs.length === 0) return new Map();
  const ids = [...new Set(refs.map(({ id }) => id))];
  const { rows } = await sql<{ id: string; changedOn: string; changedBy: string }>`
    select distinct on (id) id, to_char(at at time zone 'UTC', 'YYYY-MM-DD') as changed_on, actor as changed_by
      from (
        select record_id as id, at, actor from audit_entry where record_id = any(${ids}::text[]) and at > ${since}::timestamptz
        union all
        select owner_id, at, actor from audit_entry where owner_id = any(${ids}::text[]) and at > ${since}::timestamptz
      ) as changes order by id, at desc`.execute(db);
  return new Map(rows.map(({ id, changedOn, changedBy }) => [id, { changedOn, changedBy }]));
}
