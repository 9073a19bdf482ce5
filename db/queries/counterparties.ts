import type { Kysely } from 'kysely';
import type { z } from 'zod';
import { inTransaction } from './in-transaction.ts';
import { NotFound } from './changed.ts';
import { lockVersion } from './versioned.ts';
import type { Counterparty, counterpartyChange, newCounterparty } from '../../api/schemas/counterparty.ts';
import type { Database } from '../schema.ts';

export async function listCounterparties(db: Kysely<Database>): Promise<Counterparty[]> {
  return db.selectFrom('counterparty').selectAll().orderBy('name').execute();
}

export async function findCounterparty(db: Kysely<Database>, id: string): Promise<Counterparty> {
  const row = await db.selectFrom('counterparty').selectAll().where('id', '=', id).executeTakeFirst();
  if (row === undefined) throw new NotFound('counterparty');
  return row;
}

export async function insertCounterparty(
  db: Kysely<Database>,
  fields: z.infer<typeof newCounterparty>,
): Promise<Counterparty> {
  const id = crypto.randomUUID();
  await db
    .insertInto('counterparty')
    .values({ id, ...fields })
    .execute();
  return findCounterparty(db, id);
}

export async function updateCounterparty(
  db: Kysely<Database>,
  id: string,
  fields: z.infer<typeof counterpartyChange>,
): Promise<Counterparty> {
  return inTransaction(db, async (trx) => {
    const { version, ...row } = fields;
    await lockVersion(trx, 'counterparty', 'counterparty', id, version);
    await trx
      .updateTable('counterparty')
      .set({ ...row, version: version + 1 })
      .where('id', '=', id)
      .execute();
    return findCounterparty(trx, id);
  });
}
