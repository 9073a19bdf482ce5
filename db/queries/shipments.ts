import { sql, type Kysely } from 'kysely';
import type { z } from 'zod';
import { NotFound, Refused } from './changed.ts';
import { groupBy } from './group-by.ts';
import { inTransaction } from './in-transaction.ts';
import { findProductSource, productDryShare, productRetreatedKg } from './material-sources.ts';
import { filledIn, pageOf, type PageAsked, type Paged } from './page.ts';
import { lockVersion } from './versioned.ts';
import { Dec } from '../../api/calc/money.ts';
import type { NewShipment, Shipment, shipmentChange } from '../../api/schemas/shipment.ts';
import type { Database } from '../schema.ts';

/** What went out, kg as weighed: what had not been used up or written off by then. */
const shippedKg = sql<string>`trim_scale(round(product.mass_kg - ${productRetreatedKg} / (${productDryShare})
  - coalesce((select sum(write_off.mass_kg) from write_off where write_off.product_id = product.id
      and write_off.written_off_on < shipment.shipped_on), 0), 6))`;

function selectShipments(db: Kysely<Database>) {
  return db
    .selectFrom('shipment')
    .innerJoin('counterparty', 'counterparty.id', 'shipment.counterpartyId')
    .selectAll('shipment')
    .select('counterparty.name as counterpartyName')
    .orderBy('shippedOn')
    .orderBy('shipment.code');
}

/** Products of shipments, each with the mass that went out. */
export function selectShipped(db: Kysely<Database>) {
  return db
    .selectFrom('shipmentProduct')
    .innerJoin('shipment', 'shipment.id', 'shipmentProduct.shipmentId')
    .innerJoin('product', 'product.id', 'shipmentProduct.productId')
    .innerJoin('batch', 'batch.id', 'product.batchId')
    .innerJoin('lot', 'lot.id', 'batch.lotId')
    .select([
      'shipmentProduct.shipmentId',
      'product.id',
      'product.code',
      'product.kind',
      shippedKg.as('massKg'),
      sql<string>`${productDryShare}`.as('dryShare'),
      'product.batchId',
      'batch.lotId',
      'product.goldFinenessFrac',
      'product.silverFinenessFrac',
    ])
    .orderBy('product.code');
}

async function withProducts(
  db: Kysely<Database>,
  rows: Awaited<ReturnType<ReturnType<typeof selectShipments>['execute']>>,
): Promise<Shipment[]> {
  if (rows.length === 0) return [];
  const products = groupBy(
    await selectShipped(db)
      .where('shipmentId', '=', sql<string>`any(${rows.map(({ id }) => id)}::uuid[])`)
      .execute(),
    (row) => row.shipmentId,
  );
  return rows.map((row) => {
    const ofShipment = (products.get(row.id) ?? []).map(({ id, code, kind, massKg, batchId }) => ({
      id,
      code,
      kind,
      massKg,
      batchId,
    }));
    return { ...row, products: ofShipment, productIds: ofShipment.map(({ id }) => id) };
  });
}

/** Shipments in the order they went out, a page of them. */
export async function pageOfShipments(
  db: Kysely<Database>,
  filter: { underWay?: boolean | undefined; productId?: string | undefined },
  page: PageAsked,
): Promise<Paged<Shipment>> {
  let query = selectShipments(db);
  if (filter.underWay === true) query = query.where('shipment.arrivedOn', 'is', null);
  if (filter.productId !== undefined)
    query = query.where(
      sql<boolean>`exists (select 1 from shipment_product where shipment_product.shipment_id = shipment.id
        and shipment_product.product_id = ${filter.productId})`,
    );
  const order = { by: ['shipment.shipped_on', 'shipment.code', 'shipment.id'], from: 'shipment' };
  return filledIn(pageOf(db, query, order, page), (rows) => withProducts(db, rows));
}

export async function findShipment(db: Kysely<Database>, id: string): Promise<Shipment> {
  const [shipment] = await withProducts(
    db,
    await selectShipments(db).where('shipment.id', '=', id).execute(),
  );
  if (shipment === undefined) throw new NotFound('shipment');
  return shipment;
}

/** What goes out was there: made, not wholly used up, and with no other shipment. */
async function putProducts(
  trx: Kysely<Database>,
  shipmentId: string,
  { productIds, shippedOn }: NewShipment,
): Promise<void> {
  const before = await trx
    .deleteFrom('shipmentProduct')
    .where('shipmentId', '=', shipmentId)
    .returning('productId')
    .execute();
  const wasThere = new Set(before.map(({ productId }) => productId));
  for (const [at, productId] of productIds.entries()) {
    const pointer = `/productIds/${at}`;
    await trx.selectFrom('product').select('id').where('id', '=', productId).forUpdate().execute();
    const product = await findProductSource(trx, productId);
    if (product === undefined) throw new Refused(pointer, 'names a product that is not there');
    if (product.shipmentCode !== null)
      throw new Refused(
        pointer,
        `is ${product.code}, which has gone out with shipment ${product.shipmentCode} already`,
      );
    if (product.madeOn > shippedOn)
      throw new Refused(
        '/shippedOn',
        `is ${shippedOn}, before ${product.code} was made on ${product.madeOn}`,
      );
    if (!wasThere.has(productId) && !new Dec(product.leftKg).greaterThan(0))
      throw new Refused(pointer, `is ${product.code}, of which nothing is left`);
    await trx.insertInto('shipmentProduct').values({ shipmentId, productId }).execute();
  }
}

export async function insertShipment(db: Kysely<Database>, fields: NewShipment): Promise<Shipment> {
  return inTransaction(db, async (trx) => {
    const { productIds: _productIds, ...row } = fields;
    const id = crypto.randomUUID();
    await trx
      .insertInto('shipment')
      .values({ id, ...row })
      .execute();
    await putProducts(trx, id, fields);
    return findShipment(trx, id);
  });
}

export async function updateShipment(
  db: Kysely<Database>,
  id: string,
  fields: z.output<typeof shipmentChange>,
): Promise<Shipment> {
  return inTransaction(db, async (trx) => {
    const { productIds: _productIds, version, ...row } = fields;
    await lockVersion(trx, 'shipment', 'shipment', id, version);
    await trx
      .updateTable('shipment')
      .set({ ...row, version: version + 1 })
      .where('id', '=', id)
      .execute();
    await putProducts(trx, id, fields);
    return findShipment(trx, id);
  });
}

/** The products are in stock again. */
export async function deleteShipment(db: Kysely<Database>, id: string): Promise<void> {
  const { numDeletedRows } = await db.deleteFrom('shipment').where('id', '=', id).executeTakeFirst();
  if (numDeletedRows === 0n) throw new NotFound('shipment');
}
