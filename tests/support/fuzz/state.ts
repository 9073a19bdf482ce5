import { sql, type Kysely } from 'kysely';
import type { Database } from '../../../db/schema.ts';

/** Counted also where a request is refused, or worked anew from other tables by whoever reads. */
const MAY_CHANGE = ['sign_in_limit', 'lot_grade', 'lot_recovery', 'month_state', 'month_book', 'month_place'];
/** What the audit does not see. */
const UNSEEN = ['account_session', 'account_setup', 'idempotency'];

async function hashOf(db: Kysely<Database>, tables: readonly string[]): Promise<string> {
  const parts = tables.map(
    (
      name,
    ) => sql`select ${name} as name, md5(coalesce(string_agg(row.text, '' order by row.text), '')) as hash
      from (select t::text as text from ${sql.id(name)} t) row`,
  );
  const { rows } = await sql<{
    name: string;
    hash: string;
  }>`${sql.join(parts, sql` union all `)} order by 1`.execute(db);
  return rows.map(({ name, hash }) => `${name} ${hash}`).join('\n');
}

/** The books in brief: the end of the audit, in which every change of a watched table is, and what it does not see. */
export async function briefState(db: Kysely<Database>): Promise<string> {
  const head = await db.selectFrom('auditHead').select(['sequence', 'hash']).executeTakeFirst();
  return `${head?.sequence} ${head?.hash}\n${await hashOf(db, UNSEEN)}`;
}

/** A hash of every table, row by row. */
export async function wholeState(db: Kysely<Database>): Promise<string> {
  const { rows } = await sql<{ name: string }>`
    select tablename as name from pg_tables where schemaname = current_schema() order by 1`.execute(db);
  return hashOf(
    db,
    rows.map(({ name }) => name).filter((name) => !MAY_CHANGE.includes(name)),
  );
}
