import { sql, type Kysely } from 'kysely';
import { Refused } from './changed.ts';
import type { NewLotPart } from '../../api/schemas/lot-part.ts';
import type { Database } from '../schema.ts';

/** Where material is taken from, and what of it can be taken. */
export interface MaterialSource {
  /** As a sentence names it: `lot L-07`. */
  title: string;
  madeOn: string;
  /** kg dry. */
  leftDryKg: string;
  /** Why nothing can be taken, as a sentence goes on; null: it can. */
  standsBecause: string | null;
}

/** What a lot has left, kg dry: its own mass less test smelts, batches, parts of other lots and write-offs. */
export const lotLeftKg = sql<string>`trim_scale(lot.wet_mass_kg * (1 - lot.moisture_frac)
  - coalesce((select sum(test_smelt.sample_mass_g) / 1000 from test_smelt
      join trial on trial.id = test_smelt.trial_id where trial.lot_id = lot.id), 0)
  - coalesce((select sum(batch.dry_mass_kg) from batch
      where batch.lot_id = lot.id and batch.status <> 'cancelled'), 0)
  - coalesce((select sum(lot_part.dry_mass_kg) from lot_part where lot_part.from_lot_id = lot.id), 0)
  - coalesce((select sum(write_off.mass_kg) from write_off where write_off.lot_id = lot.id), 0))`;

/** A parcel is weighed wet, by the moisture of its lot; all else is dry as it is weighed. */
export const productDryShare = sql<string>`case when product.kind = 'parcel' then 1 - lot.moisture_frac else 1 end`;

export const productRetreatedKg = sql<string>`coalesce((select trim_scale(sum(lot_part.dry_mass_kg)) from lot_part
  where lot_part.product_id = product.id), 0)`;
export const productWrittenOffKg = sql<string>`coalesce((select trim_scale(sum(write_off.mass_kg)) from write_off
  where write_off.product_id = product.id), 0)`;
/** kg dry. */
export const productLeftDryKg = sql<string>`trim_scale((product.mass_kg - ${productWrittenOffKg})
  * (${productDryShare}) - ${productRetreatedKg})`;
/** kg as weighed, to the milligram where dry mass is turned back into wet. */
export const productLeftKg = sql<string>`case when product.kind = 'parcel'
  then trim_scale(round(product.mass_kg - ${productWrittenOffKg} - ${productRetreatedKg} / (1 - lot.moisture_frac), 6))
  else trim_scale(product.mass_kg - ${productWrittenOffKg} - ${productRetreatedKg}) end`;

/** Finds and locks where a part comes from. */
export async function lockedSource(
  trx: Kysely<Database>,
  { source, sourceId }: Pick<NewLotPart, 'source' | 'sourceId'>,
  pointer: string,
): Promise<MaterialSource> {
  const missing = (): Refused => new Refused(pointer, `names a ${source} that is not there`);
  switch (source) {
    case 'day': {
      const day = await trx
        .selectFrom('productionDay')
        .select([
          'day',
          'concentrateWetKg',
          sql<string>`trim_scale(coalesce(concentrate_wet_kg * (1 - concentrate_moisture_frac), 0)
            - coalesce((select sum(lot_part.dry_mass_kg) from lot_part
                where lot_part.production_day_id = production_day.id), 0))`.as('leftDryKg'),
        ])
        .where('id', '=', sourceId)
        .forUpdate()
        .executeTakeFirst();
      if (day === undefined) throw missing();
      return {
        title: `the day ${day.day}`,
        madeOn: day.day,
        leftDryKg: day.leftDryKg,
        standsBecause: day.concentrateWetKg === null ? 'is a day without concentrate' : null,
      };
    }
    case 'lot': {
      await trx.selectFrom('lot').select('id').where('id', '=', sourceId).forUpdate().execute();
      const lot = await trx
        .selectFrom('lot')
        .select(['code', 'madeOn', lotLeftKg.as('leftDryKg')])
        .where('id', '=', sourceId)
        .executeTakeFirst();
      if (lot === undefined) throw missing();
      return { ...lot, title: `lot ${lot.code}`, standsBecause: null };
    }
    case 'product': {
      await trx.selectFrom('product').select('id').where('id', '=', sourceId).forUpdate().execute();
      const product = await findProductSource(trx, sourceId);
      if (product === undefined) throw missing();
      return { ...product, title: product.code, standsBecause: goneBecause(product) };
    }
  }
}

interface ProductSource {
  code: string;
  madeOn: string;
  leftKg: string;
  leftDryKg: string;
  shipmentCode: string | null;
  issuedNumber: string | null;
}

/** A product with what is left of it and what has become of it. */
export async function findProductSource(
  db: Kysely<Database>,
  id: string,
): Promise<ProductSource | undefined> {
  return db
    .selectFrom('product')
    .innerJoin('batch', 'batch.id', 'product.batchId')
    .innerJoin('lot', 'lot.id', 'batch.lotId')
    .leftJoin('shipmentProduct', 'shipmentProduct.productId', 'product.id')
    .leftJoin('shipment', 'shipment.id', 'shipmentProduct.shipmentId')
    .select([
      'product.code',
      'product.madeOn',
      productLeftKg.as('leftKg'),
      productLeftDryKg.as('leftDryKg'),
      'shipment.code as shipmentCode',
      sql<string | null>`(select max(statement.number) from statement
        where statement.product_id = product.id and statement.status = 'issued')`.as('issuedNumber'),
    ])
    .where('product.id', '=', id)
    .executeTakeFirst();
}

/** Why a product is no longer the mill's to work with; null: it is in stock. */
export function goneBecause(product: ProductSource): string | null {
  if (product.shipmentCode !== null)
    return `is ${product.code}, which has gone out with shipment ${product.shipmentCode}`;
  if (product.issuedNumber !== null)
    return `is ${product.code}, which statement ${product.issuedNumber} has settled`;
  return null;
}
