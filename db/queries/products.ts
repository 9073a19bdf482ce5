import { sql, type Kysely } from 'kysely';
import type { z } from 'zod';
import { inTransaction } from './in-transaction.ts';
import { findBatch } from './batches.ts';
import { NotFound, Refused } from './changed.ts';
import { findLot } from './lots.ts';
import { findProductSource } from './material-sources.ts';
import { lockVersion } from './versioned.ts';
import { Dec } from '../../api/calc/money.ts';
import type { Batch, newProduct, Product, productChange } from '../../api/schemas/batch.ts';
import type { Database } from '../schema.ts';

export async function findProduct(db: Kysely<Database>, id: string): Promise<Product> {
  const row = await db.selectFrom('product').selectAll().where('id', '=', id).executeTakeFirst();
  if (row === undefined) throw new NotFound('product');
  return row;
}

/** A scale's and a moisture's share by which a parcel may outweigh what the batch took, as a fraction. */
const PARCEL_TOLERANCE_FRAC = 0.1;

/** What comes of a batch is not made before it, and weighs no more than what went in. */
async function requirePlausible(
  trx: Kysely<Database>,
  batch: Batch,
  product: { kind: Product['kind']; massKg: string; madeOn: string },
): Promise<void> {
  if (batch.startedOn !== null && product.madeOn < batch.startedOn)
    throw new Refused('/madeOn', `is ${product.madeOn}, before the batch was started on ${batch.startedOn}`);
  const lot = await findLot(trx, batch.lotId);
  const isParcel = product.kind === 'parcel';
  const mass = isParcel ? new Dec(product.massKg).times(new Dec(1).minus(lot.moistureFrac)) : product.massKg;
  const most = new Dec(batch.dryMassKg).times(1 + (isParcel ? PARCEL_TOLERANCE_FRAC : 0));
  const mayOutweigh = product.kind === 'slag' || product.kind === 'lead' || product.kind === 'matte';
  if (!mayOutweigh && most.lessThan(mass))
    throw new Refused(
      '/massKg',
      `is ${product.massKg} kg, more than the batch took out of the lot (${batch.dryMassKg} kg dry)`,
    );
}

export async function insertProduct(
  db: Kysely<Database>,
  batchId: string,
  fields: z.infer<typeof newProduct>,
): Promise<Product> {
  return inTransaction(db, async (trx) => {
    const batch = await findBatch(trx, batchId);
    if (batch.status === 'cancelled')
      throw new Refused('/kind', 'cannot come from a batch that was cancelled');
    await requirePlausible(trx, batch, fields);
    return trx
      .insertInto('product')
      .values({ id: crypto.randomUUID(), batchId, ...fields })
      .returningAll()
      .executeTakeFirstOrThrow();
  });
}

export async function updateProduct(
  db: Kysely<Database>,
  id: string,
  fields: z.infer<typeof productChange>,
): Promise<Product> {
  return inTransaction(db, async (trx) => {
    const { version, ...row } = fields;
    await lockVersion(trx, 'product', 'product', id, version);
    const { batchId } = await findProduct(trx, id);
    await requirePlausible(trx, await findBatch(trx, batchId), row);
    await trx
      .updateTable('product')
      .set({ ...row, version: version + 1 })
      .where('id', '=', id)
      .execute();
    await requireNotMoved(trx, id, row);
    return findProduct(trx, id);
  });
}

/** What was used up, written off or sent out stays so: the product keeps at least that mass, and comes before it. */
async function requireNotMoved(
  trx: Kysely<Database>,
  id: string,
  { massKg, madeOn }: { massKg: string; madeOn: string },
): Promise<void> {
  const source = await findProductSource(trx, id);
  if (source === undefined) return;
  if (new Dec(source.leftKg).isNegative())
    throw new Refused('/massKg', `is ${massKg} kg, less than was worked up again and written off`);
  const { first } = await trx
    .selectFrom('product')
    .select(
      sql<string | null>`least(
        (select min(taken_on) from lot_part where product_id = product.id),
        (select min(written_off_on) from write_off where product_id = product.id),
        (select min(shipped_on) from shipment join shipment_product on shipment_id = shipment.id
          where product_id = product.id))`.as('first'),
    )
    .where('product.id', '=', id)
    .executeTakeFirstOrThrow();
  if (first !== null && first < madeOn)
    throw new Refused('/madeOn', `is ${madeOn}, after it was taken or sent out on ${first}`);
}

export async function deleteProduct(db: Kysely<Database>, id: string): Promise<void> {
  const { numDeletedRows } = await db.deleteFrom('product').where('id', '=', id).executeTakeFirst();
  if (numDeletedRows === 0n) throw new NotFound('product');
}
