import { sql, type Kysely } from 'kysely';
import type { SequenceInBackup, TableInBackup } from './format.ts';
import type { Database } from '../schema.ts';

/**
 * Every table of the books with its columns, by name. Left out is what the database works out itself, and what is not
 * logged: rows of files that are still being imported are not of the books.
 */
export async function tablesOf(trx: Kysely<Database>): Promise<Omit<TableInBackup, 'rows'>[]> {
  const { rows } = await sql<{ name: string; columns: { name: string; type: string }[] }>`
    select pg_class.relname as name, json_agg(json_build_object('name', attname,
        'type', format_type(atttypid, atttypmod)) order by attnum) as columns
      from pg_class join pg_attribute on attrelid = pg_class.oid
      where relnamespace = current_schema()::regnamespace and relkind = 'r' and relpersistence = 'p'
        and attnum > 0 and not attisdropped and attgenerated = ''
      group by pg_class.relname order by pg_class.relname collate "C"`.execute(trx);
  return rows;
}

/** The columns that name a row of a table; none where it has no primary key. */
export async function keyOf(trx: Kysely<Database>, table: string): Promise<string[]> {
  const { rows } = await sql<{ name: string }>`
    select attname as name from pg_index cross join unnest(indkey) with ordinality as part (number, place)
      join pg_attribute on attrelid = indrelid and attnum = number
      where indrelid = ${quoted(table)}::regclass and indisprimary order by place`.execute(trx);
  return rows.map(({ name }) => name);
}

export async function sequencesOf(trx: Kysely<Database>): Promise<SequenceInBackup[]> {
  const found = await sql<{ name: string }>`select relname as name from pg_class
    where relnamespace = current_schema()::regnamespace and relkind = 'S' order by relname collate "C"`.execute(
    trx,
  );
  const sequences: SequenceInBackup[] = [];
  for (const { name } of found.rows) {
    const { rows } = await sql<{ lastValue: string; isCalled: boolean }>`
      select last_value, is_called from ${sql.id(name)}`.execute(trx);
    for (const row of rows) sequences.push({ name, ...row });
  }
  return sequences;
}

/** Writes dates, floats and bytes the one way that every PostgreSQL reads back without loss. */
export async function writeExactly(trx: Kysely<Database>): Promise<void> {
  for (const setting of [
    `datestyle = 'ISO, YMD'`,
    `intervalstyle = 'postgres'`,
    `bytea_output = 'hex'`,
    `extra_float_digits = 1`,
    `timezone = 'UTC'`,
  ])
    await sql.raw(`set local ${setting}`).execute(trx);
}

/** A name as SQL has it where a text is wanted. */
export function quoted(name: string): string {
  return `"${name.replaceAll('"', '""')}"`;
}
