import type { Kysely } from 'kysely';
import type { Database } from '../schema.ts';

/** All or nothing: within the transaction that is already open, or one of its own. */
export async function inTransaction<Result>(
  db: Kysely<Database>,
  work: (trx: Kysely<Database>) => Promise<Result>,
): Promise<Result> {
  if (db.isTransaction) return work(db);
  return db.transaction().execute(work);
}
