import type { Kysely } from 'kysely';
import { ChangedSince, NotFound } from './changed.ts';
import type { Database } from '../schema.ts';

type Versioned =
  | 'lot'
  | 'season'
  | 'balance'
  | 'supply'
  | 'treatment'
  | 'supplyPurchase'
  | 'supplyCount'
  | 'expense'
  | 'counterparty'
  | 'trial'
  | 'testSmelt'
  | 'batch'
  | 'product'
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
  const before = await trx
    .selectFrom(table)
    .select('version')
    .where('id', '=', id)
    .forUpdate()
    .executeTakeFirst();
  if (before === undefined) throw new NotFound(what);
  if (before.version !== version) throw new ChangedSince(`The ${what}`);
}
