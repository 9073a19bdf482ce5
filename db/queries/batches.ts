import { sql, type Kysely } from 'kysely';
import { NotFound } from './changed.ts';
import { groupBy } from './group-by.ts';
import { findMill } from './mill.ts';
import { stocksBefore } from './month-states.ts';
import { anywhere, filledIn, pageOf, type PageAsked, type Paged } from './page.ts';
import { movementCosts } from './stock-ledgers.ts';
import { listSupplies } from './supplies.ts';
import { leadByTreatment } from './treatment-leads.ts';
import type { Batch } from '../../api/schemas/batch.ts';
import type { Database } from '../schema.ts';
import { batchOf, costDay, selectBatches, type BatchRow } from './batch-rows.ts';

async function withParts(db: Kysely<Database>, rows: BatchRow[]): Promise<Batch[]> {
  if (rows.length === 0) return [];
  const ids = rows.map((row) => row.id);
  const supplies = await listSupplies(db);
  const consumption = groupBy(
    await db
      .selectFrom('batchConsumption')
      .innerJoin('supply', 'supply.id', 'batchConsumption.supplyId')
      .select(['batchId', 'supplyId', 'quantity'])
      .where('batchId', 'in', ids)
      .orderBy('supply.name')
      .execute(),
    (row) => row.batchId,
  );
  const products = groupBy(
    await db.selectFrom('product').selectAll().where('batchId', 'in', ids).orderBy('code').execute(),
    (row) => row.batchId,
  );
  const statements = groupBy(
    await db
      .selectFrom('statement')
      .innerJoin('product', 'product.id', 'statement.productId')
      .select([
        'product.batchId',
        'statement.productId',
        'statement.number',
        'statement.stage',
        'statement.total',
        'statement.settlement',
      ])
      .where('statement.status', '=', 'issued')
      .where('product.batchId', 'in', ids)
      .orderBy(sql`length(statement.number)`)
      .orderBy('statement.number')
      .execute(),
    (row) => row.batchId,
  );
  const leadSupplyIds = await leadByTreatment(db, supplies);
  const books = { supplies, millCurrency: (await findMill(db)).currency };
  const days = rows.map(costDay).toSorted();
  const stockCosts = await movementCosts(db, books, {
    supplyIds: [
      ...new Set([
        ...[...consumption.values()].flatMap((used) => used.map((one) => one.supplyId)),
        ...rows.flatMap((row) => leadSupplyIds.get(row.treatmentId ?? '') ?? []),
      ]),
    ],
    from: await stocksBefore(db, books, days[0] ?? ''),
    upTo: days.at(-1),
  });
  return rows.map((row) =>
    batchOf(row, {
      leadSupplyId: row.treatmentId === null ? null : (leadSupplyIds.get(row.treatmentId) ?? null),
      consumption: (consumption.get(row.id) ?? []).map(({ supplyId, quantity }) => ({ supplyId, quantity })),
      products: products.get(row.id) ?? [],
      statements: statements.get(row.id) ?? [],
      supplies,
      stockCosts,
    }),
  );
}

export async function listBatches(
  db: Kysely<Database>,
  filter: {
    lotId?: string | undefined;
    lotIds?: readonly string[] | undefined;
    seasonId?: string | undefined;
    statuses?: readonly Batch['status'][] | undefined;
    /** Only those that a statement was issued for. */
    settled?: boolean | undefined;
  } = {},
): Promise<Batch[]> {
  let query = selectBatches(db);
  if (filter.settled === true)
    query = query.where(
      sql<boolean>`exists (select 1 from product join statement on statement.product_id = product.id
        where product.batch_id = batch.id and statement.status = 'issued')`,
    );
  if (filter.statuses !== undefined) query = query.where('batch.status', 'in', filter.statuses);
  if (filter.lotId !== undefined) query = query.where('batch.lotId', '=', filter.lotId);
  if (filter.lotIds !== undefined)
    query = query.where('batch.lotId', '=', sql<string>`any(${filter.lotIds}::uuid[])`);
  if (filter.seasonId !== undefined) query = query.where('lot.seasonId', '=', filter.seasonId);
  return withParts(db, await query.execute());
}

/** Batches in the order they were planned, a page of them. */
export async function pageOfBatches(
  db: Kysely<Database>,
  filter: {
    lotId?: string | undefined;
    productId?: string | undefined;
    seasonId?: string | undefined;
    statuses?: readonly Batch['status'][] | undefined;
    /** Part of the code of the batch, its lot or one of its products. */
    sought?: string | undefined;
    /** `made`: with bars or parcels; `open`: with some that no final statement was issued for. */
    toSettle?: 'made' | 'open' | undefined;
  },
  page: PageAsked,
): Promise<Paged<Batch>> {
  let query = selectBatches(db);
  if (filter.lotId !== undefined) query = query.where('batch.lotId', '=', filter.lotId);
  if (filter.seasonId !== undefined) query = query.where('lot.seasonId', '=', filter.seasonId);
  if (filter.statuses !== undefined) query = query.where('batch.status', 'in', filter.statuses);
  if (filter.productId !== undefined)
    query = query.where(
      sql<boolean>`exists (select 1 from product where product.batch_id = batch.id
        and product.id = ${filter.productId})`,
    );
  if (filter.sought !== undefined) {
    const like = anywhere(filter.sought);
    query = query.where(
      sql<boolean>`(batch.code ilike ${like} or lot.code ilike ${like}
        or exists (select 1 from product where product.batch_id = batch.id and product.code ilike ${like}))`,
    );
  }
  if (filter.toSettle !== undefined)
    query = query.where(
      sql<boolean>`exists (select 1 from product where product.batch_id = batch.id
        and product.kind in ('bar', 'parcel') and (${filter.toSettle === 'made'} or not exists (
          select 1 from statement where statement.product_id = product.id and statement.status = 'issued'
            and statement.stage = 'final')))`,
    );
  const order = {
    by: ['batch.planned_on', 'batch.code', 'batch.id'],
    from: 'batch',
  };
  return filledIn(pageOf(db, query, order, page), (rows) => withParts(db, rows));
}

export async function findBatch(db: Kysely<Database>, id: string): Promise<Batch> {
  const [batch] = await withParts(db, await selectBatches(db).where('batch.id', '=', id).execute());
  if (batch === undefined) throw new NotFound('batch');
  return batch;
}
