import type { Kysely } from 'kysely';
import { ChangedSince, NotFound } from './changed.ts';
import type { Database } from '../schema.ts';

/** The tables whose rows carry a version. */
export type Versioned =
  | 'lot'
  | 'season'
  | 'balance'
  | 'supply'
  | 'treatment'
  | 'counterparty'
  | 'trial'
  | 'testSmelt'
  | 'batch'
  | 'product'
  | 'supplyPurchase'
  | 'supplyCount'
  | 'expense'
  | 'productionDay'
  | 'shipment'
  | 'statement'
  | 'buyerStatement';

/**
 * Locks a record for a change and refuses the change when the record has moved
 * on since it was read. To be called inside a transaction.
 */
export async function lockVersion(
  trx: Kysely<Database>,
  table: Versioned,
  what: string,
  id: string,
  version: number,
): Promise<void> {
  const found = await lockRecord(trx, table, what, id);
  if (found !== version) throw new ChangedSince(`The ${what}`, { table, id, version });
}

/** Locks a record for a change and gives its version. To be called inside a transaction. */
export async function lockRecord(
  trx: Kysely<Database>,
  table: Versioned,
  what: string,
  id: string,
): Promise<number> {
  const before = await trx
    .selectFrom(table)
    .select('version')
    .where('id', '=', id)
    .forUpdate()
    .executeTakeFirst();
  if (before === undefined) throw new NotFound(what);
  return before.version;
}
