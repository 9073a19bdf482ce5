import { sql } from 'kysely';
import { openDatabase } from '../../../db/open.ts';

/** Inserts numbered rows and tells the parent each one that was acknowledged, until somebody kills it. */
const { db } = await openDatabase({ dataDir: process.argv[2], durability: 'durable' });
await sql`create table if not exists counted (id integer primary key)`.execute(db);
for (let id = 1; ; id += 1) {
  await sql`insert into counted values (${id})`.execute(db);
  process.send?.(id);
}
