import { sql, type Kysely } from 'kysely';
import { batchInWorkOn } from './book-batches.ts';
import { groupBy } from './group-by.ts';
import { productDryShare } from './material-sources.ts';
import { batchesAmong, candidatesOn, lotsAmong, productsAmong, type Candidates } from './month-places.ts';
import type { MillMovements, MillState, StateProduct } from '../../api/calc/books/mill-account.ts';
import type { Database } from '../schema.ts';

/** kg dry of a lot at the end of a day, as it lay there: what is only planned has not been taken. */
const lotLeftOn = (day: string) => sql<string>`trim_scale(lot.wet_mass_kg * (1 - lot.moisture_frac)
  - coalesce((select sum(test_smelt.sample_mass_g) / 1000 from test_smelt
      join trial on trial.id = test_smelt.trial_id
      where trial.lot_id = lot.id and test_smelt.smelted_on <= ${day}::date), 0)
  - coalesce((select sum(batch.dry_mass_kg) from batch where batch.lot_id = lot.id
      and batch.status <> 'cancelled' and (${batchInWorkOn})::date <= ${day}::date), 0)
  - coalesce((select sum(lot_part.dry_mass_kg) from lot_part
      where lot_part.from_lot_id = lot.id and lot_part.taken_on <= ${day}::date), 0)
  - coalesce((select sum(write_off.mass_kg) from write_off
      where write_off.lot_id = lot.id and write_off.written_off_on <= ${day}::date), 0))`;

/** When a batch left work: finished, or gave its first product. */
const outOfWorkOn = sql<string | null>`least(batch.finished_on,
  (select min(made_on) from product where product.batch_id = batch.id))`;

/** When a product left the mill: by its shipment, else by what its first issued statement says of it. */
const productOutOn = sql<string | null>`coalesce(
  (select shipped_on from shipment join shipment_product on shipment_id = shipment.id
    where product_id = product.id),
  (select min(coalesce((input #>> '{entry,dates,shippedOn}')::date, issued_on)) from statement
    where statement.product_id = product.id and statement.status = 'issued'))`;

/** kg dry of a product at the end of a day. */
const productLeftOn = (day: string) => sql<string>`trim_scale((product.mass_kg
    - coalesce((select sum(write_off.mass_kg) from write_off where write_off.product_id = product.id
        and write_off.written_off_on <= ${day}::date), 0)) * (${productDryShare})
  - coalesce((select sum(lot_part.dry_mass_kg) from lot_part where lot_part.product_id = product.id
      and lot_part.taken_on <= ${day}::date), 0))`;

function selectProducts(db: Kysely<Database>, leftDryKg: ReturnType<typeof productLeftOn>) {
  return db
    .selectFrom('product')
    .innerJoin('batch', 'batch.id', 'product.batchId')
    .innerJoin('lot', 'lot.id', 'batch.lotId')
    .select([
      'product.id',
      'product.code',
      'product.kind',
      'batch.lotId',
      sql<string>`trim_scale(product.mass_kg)`.as('massKg'),
      leftDryKg.as('leftDryKg'),
      sql<string>`${productDryShare}`.as('dryShare'),
      'product.goldFinenessFrac',
      'product.silverFinenessFrac',
      'product.massStandardUncertaintyKg',
      'product.goldStandardUncertaintyFrac',
      'product.silverStandardUncertaintyFrac',
    ])
    .orderBy('product.madeOn')
    .orderBy('product.code');
}

/** Lots, batches in work and products as they lay at the end of a day. */
export async function millStateOn(db: Kysely<Database>, on: string): Promise<MillState> {
  return stateAmong(db, on, await candidates(db, on));
}

/** What may lie at the mill or with a buyer on a day. */
async function candidates(db: Kysely<Database>, on: string): Promise<Candidates> {
  return candidatesOn(db, on, async (day, before) => {
    const { lots, inWork, products, withBuyers } = await stateAmong(db, day, before);
    const idsOf = (rows: readonly { id: string }[]): string[] => rows.map(({ id }) => id);
    return { lots: idsOf(lots), batches: idsOf(inWork), products: idsOf([...products, ...withBuyers]) };
  });
}

async function stateAmong(db: Kysely<Database>, on: string, among: Candidates | null): Promise<MillState> {
  const lots = await db
    .selectFrom('lot')
    .select(['lot.id', 'lot.code', lotLeftOn(on).as('leftKg')])
    .where(lotsAmong(among))
    .where('lot.madeOn', '<=', on)
    .where(sql<boolean>`${lotLeftOn(on)} > 0`)
    .orderBy('lot.madeOn')
    .orderBy('lot.code')
    .execute();
  const inWork = await db
    .selectFrom('batch')
    .innerJoin('lot', 'lot.id', 'batch.lotId')
    .select(['batch.id', 'batch.code', 'batch.lotId', 'lot.code as lotCode', 'batch.dryMassKg'])
    .where(batchesAmong(among))
    .where('batch.status', '<>', 'cancelled')
    .where(sql<boolean>`(${batchInWorkOn})::date <= ${on}::date`)
    .where(sql<boolean>`coalesce(${outOfWorkOn} > ${on}::date, true)`)
    .orderBy('batch.code')
    .execute();
  const there = await selectProducts(db, productLeftOn(on))
    .select(sql<boolean>`coalesce(${productOutOn} <= ${on}::date, false)`.as('isOut'))
    .where(productsAmong(among))
    .where('product.madeOn', '<=', on)
    .where(sql<boolean>`${productLeftOn(on)} > 0`)
    // What is settled finally is the buyer's.
    .where(
      sql<boolean>`not (coalesce(${productOutOn} <= ${on}::date, false) and exists (select from statement
        where statement.product_id = product.id and statement.status = 'issued'
          and statement.stage in ('final', 'adjustment') and statement.issued_on <= ${on}::date))`,
    )
    .execute();
  const products: StateProduct[] = [];
  const withBuyers: StateProduct[] = [];
  for (const { isOut, ...product } of there) (isOut ? withBuyers : products).push(product);
  const { rows: ofDays } = await sql<{ dryKg: string }>`select trim_scale(
      coalesce((select sum(concentrate_wet_kg * (1 - concentrate_moisture_frac)) from production_day
        where day <= ${on}::date), 0)
      - coalesce((select sum(dry_mass_kg) from lot_part
        where production_day_id is not null and taken_on <= ${on}::date), 0)) as dry_kg`.execute(db);
  return { on, daysDryKg: ofDays[0]?.dryKg ?? '0', lots, inWork, products, withBuyers };
}

export type ProductOfBatch = StateProduct & { batchId: string };

/** All that batches gave, as it was weighed when it was made. */
export async function productsOfBatches(
  db: Kysely<Database>,
  batchIds: readonly string[],
): Promise<Map<string, ProductOfBatch[]>> {
  if (batchIds.length === 0) return new Map();
  const whole = sql<string>`trim_scale(product.mass_kg * (${productDryShare}))`;
  const rows = await selectProducts(db, whole)
    .select('product.batchId')
    .where('product.batchId', '=', sql<string>`any(${batchIds}::uuid[])`)
    .execute();
  return groupBy(rows, ({ batchId }) => batchId);
}

/** Lots that the concentrate of some days went into, by what of it they took, kg dry. */
export async function lotsOfDays(
  db: Kysely<Database>,
  { from, to }: { from: string; to: string },
): Promise<{ lotId: string; dryMassKg: string }[]> {
  return db
    .selectFrom('lotPart')
    .innerJoin('productionDay', 'productionDay.id', 'lotPart.productionDayId')
    .select(['lotPart.lotId', sql<string>`trim_scale(sum(lot_part.dry_mass_kg))`.as('dryMassKg')])
    .where('productionDay.day', '>=', from)
    .where('productionDay.day', '<=', to)
    .groupBy('lotPart.lotId')
    .execute();
}

/** What came to the mill's metal and left it in a range of days. */
export async function millMovements(
  db: Kysely<Database>,
  { from, to }: { from: string; to: string },
): Promise<MillMovements> {
  const received = await db
    .selectFrom('lot')
    .select(['lot.id as lotId', 'lot.code'])
    .select(
      sql<string>`trim_scale(greatest(0, lot.wet_mass_kg * (1 - lot.moisture_frac)
        - coalesce((select sum(lot_part.dry_mass_kg) from lot_part where lot_part.lot_id = lot.id
            and lot_part.production_day_id is null), 0)))`.as('dryMassKg'),
    )
    .where('lot.madeOn', '>=', from)
    .where('lot.madeOn', '<=', to)
    .orderBy('lot.code')
    .execute();
  const tested = await db
    .selectFrom('testSmelt')
    .innerJoin('trial', 'trial.id', 'testSmelt.trialId')
    .innerJoin('lot', 'lot.id', 'trial.lotId')
    .select(['lot.id as lotId', 'lot.code'])
    .select(sql<string>`trim_scale(sum(test_smelt.sample_mass_g) / 1000)`.as('dryMassKg'))
    .where('smeltedOn', '>=', from)
    .where('smeltedOn', '<=', to)
    .groupBy('lot.id')
    .execute();
  const lost = await db
    .selectFrom('writeOff')
    .innerJoin('lot', 'lot.id', 'writeOff.lotId')
    .select(['lot.id as lotId', 'lot.code', 'writeOff.massKg as dryMassKg'])
    .where('writtenOffOn', '>=', from)
    .where('writtenOffOn', '<=', to)
    .execute();
  // What went out is what had been left by then: neither used up again nor written off.
  const left = productLeftOn(to);
  const productsOut = await selectProducts(db, left)
    .where(productsAmong(await candidates(db, from)))
    .where(sql<boolean>`${productOutOn} between ${from}::date and ${to}::date`)
    .execute();
  const writtenOff = sql<string>`trim_scale(write_off.mass_kg * (${productDryShare}))`;
  const productsWrittenOff = await selectProducts(db, writtenOff)
    .innerJoin('writeOff', 'writeOff.productId', 'product.id')
    .where('writtenOffOn', '>=', from)
    .where('writtenOffOn', '<=', to)
    // What is lost under way or at the buyer's has left the mill already.
    .where(sql<boolean>`coalesce(${productOutOn} > write_off.written_off_on, true)`)
    .execute();
  return {
    received: received.filter(({ dryMassKg }) => Number(dryMassKg) > 0),
    takenFromLots: [
      ...tested.map((one) => ({ ...one, why: 'test smelts' })),
      ...lost.map((one) => ({ ...one, why: 'written off' })),
    ],
    productsOut: productsOut satisfies StateProduct[],
    productsWrittenOff: productsWrittenOff satisfies StateProduct[],
  };
}
