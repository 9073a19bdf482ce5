import { sql, type Kysely } from 'kysely';
import type { Database } from '../schema.ts';
import { quoted, tablesOf } from './tables.ts';

interface Reference {
  table: string;
  name: string;
  definition: string;
}

/**
 * Empties every table and does the work while no trigger fires and no reference between tables is held; then holds
 * all of them again, so that work which broke one fails. Needs no more rights than making the tables did.
 */
export async function whileUnwatched<Result>(
  trx: Kysely<Database>,
  work: () => Promise<Result>,
): Promise<Result> {
  // Nothing may wait for the commit: a table with waiting triggers cannot be altered.
  await sql`set constraints all immediate`.execute(trx);
  const tables = (await tablesOf(trx)).map(({ name }) => quoted(name));
  const { rows: references } = await sql<Reference>`
    select relname as table, conname as name, pg_get_constraintdef(pg_constraint.oid) as definition
      from pg_constraint join pg_class on pg_class.oid = conrelid
      where contype = 'f' and relnamespace = current_schema()::regnamespace order by 1, 2`.execute(trx);
  const run = (statement: string) => sql.raw(statement).execute(trx);

  for (const { table, name } of references)
    await run(`alter table ${quoted(table)} drop constraint ${quoted(name)}`);
  for (const table of tables) await run(`alter table ${table} disable trigger user`);
  for (const table of tables) await run(`delete from ${table}`);
  const result = await work();
  for (const table of tables) await run(`alter table ${table} enable trigger user`);
  for (const { table, name, definition } of references)
    await run(`alter table ${quoted(table)} add constraint ${quoted(name)} ${definition}`);
  await sql`set constraints all deferred`.execute(trx);
  return result;
}
