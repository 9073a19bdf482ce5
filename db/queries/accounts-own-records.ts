import type { Kysely } from 'kysely';
import type { Database } from '../schema.ts';

/** Whether a lot belongs to a customer. */
export async function isOwnLot(db: Kysely<Database>, counterpartyId: string, id: string): Promise<boolean> {
  const row = await db
    .selectFrom('lot')
    .select('id')
    .where('id', '=', id)
    .where('ownerCounterpartyId', '=', counterpartyId)
    .executeTakeFirst();
  return row !== undefined;
}

/** Whether an issued statement was made under terms with a customer. */
export async function isOwnStatement(
  db: Kysely<Database>,
  counterpartyId: string,
  id: string,
): Promise<boolean> {
  const row = await db
    .selectFrom('statement')
    .innerJoin('terms', 'terms.id', 'statement.termsId')
    .select('statement.id')
    .where('statement.id', '=', id)
    .where('statement.status', '=', 'issued')
    .where('terms.counterpartyId', '=', counterpartyId)
    .executeTakeFirst();
  return row !== undefined;
}

/** Says whose lot it is; null for the mill's own. */
export async function putLotOwner(
  db: Kysely<Database>,
  lotId: string,
  counterpartyId: string | null,
): Promise<boolean> {
  const { numUpdatedRows } = await db
    .updateTable('lot')
    .set({ ownerCounterpartyId: counterpartyId })
    .where('id', '=', lotId)
    .executeTakeFirst();
  return numUpdatedRows > 0n;
}
