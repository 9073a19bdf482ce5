import type { Kysely } from 'kysely';
import { nameActing } from '../audit/acting.ts';
import type { Database } from '../schema.ts';

/** All or nothing: within the transaction that is already open, or one of its own. */
export async function inTransaction<Result>(
  db: Kysely<Database>,
  work: (trx: Kysely<Database>) => Promise<Result>,
): Promise<Result> {
  if (db.isTransaction) return work(db);
  return db.transaction().execute(async (trx) => {
    await nameActing(trx);
    return work(trx);
  });
}
