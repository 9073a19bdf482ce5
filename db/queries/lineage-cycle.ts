import { sql, type Kysely } from 'kysely';
import { Refused } from './changed.ts';
import type { NewLotPart } from '../../api/schemas/lot-part.ts';
import type { Database } from '../schema.ts';

/** All changes of what lots were made from wait for each other here: a ring needs two of them at once. */
const LINEAGE_LOCK = 7_031_105;

/** Every lot that a lot was made from, itself included, through other lots and through products of batches. */
export async function lotsBehind(db: Kysely<Database>, lotId: string): Promise<string[]> {
  const { rows } = await sql<{ lotId: string }>`
    with recursive behind (lot_id) as (
      select ${lotId}::uuid
      union
      select coalesce(lot_part.from_lot_id, batch.lot_id)
      from behind
      join lot_part on lot_part.lot_id = behind.lot_id
      left join product on product.id = lot_part.product_id
      left join batch on batch.id = product.batch_id
      where coalesce(lot_part.from_lot_id, batch.lot_id) is not null
    )
    select lot_id as "lotId" from behind`.execute(db);
  return rows.map((row) => row.lotId);
}

/** Nothing can be made from itself, by however many steps. */
export async function requireNoCycle(
  trx: Kysely<Database>,
  lot: { id: string; code: string },
  part: NewLotPart,
  pointer: string,
): Promise<void> {
  if (part.source === 'day') return;
  await sql`select pg_advisory_xact_lock(${LINEAGE_LOCK})`.execute(trx);
  let sourceLotId = part.sourceId;
  if (part.source === 'product') {
    const row = await trx
      .selectFrom('product')
      .innerJoin('batch', 'batch.id', 'product.batchId')
      .select('batch.lotId')
      .where('product.id', '=', part.sourceId)
      .executeTakeFirstOrThrow();
    sourceLotId = row.lotId;
  }
  if ((await lotsBehind(trx, sourceLotId)).includes(lot.id))
    throw new Refused(pointer, `was itself made from lot ${lot.code}`);
}
