import type { Kysely } from 'kysely';
import type { z } from 'zod';
import { priceOn } from '../../api/calc/books/batch-cost.ts';
import type { newSupplyCount, SupplyCount, supplyCountChange } from '../../api/schemas/supply-stock.ts';
import type { Database } from '../schema.ts';
import { NotFound, Refused } from './changed.ts';
import { inTransaction } from './in-transaction.ts';
import { pageOf, type PageAsked, type Paged } from './page.ts';
import { findSupply } from './supplies.ts';
import { requireStockable } from './supply-purchases.ts';
import { lockVersion } from './versioned.ts';

function selectCounts(db: Kysely<Database>) {
  return db
    .selectFrom('supplyCount')
    .innerJoin('supply', 'supply.id', 'supplyCount.supplyId')
    .select([
      'supplyCount.id',
      'supplyCount.supplyId',
      'supplyCount.countedOn',
      'supplyCount.quantity',
      'supplyCount.unitCost',
      'supplyCount.remarks',
      'supplyCount.version',
      'supply.name as supplyName',
      'supply.unit as unit',
    ]);
}

/** Counts, newest first, a page of them. */
export async function pageOfSupplyCounts(
  db: Kysely<Database>,
  filter: { supplyId?: string | undefined; from?: string | undefined; to?: string | undefined },
  page: PageAsked,
): Promise<Paged<SupplyCount>> {
  let query = selectCounts(db);
  if (filter.supplyId !== undefined) query = query.where('supplyId', '=', filter.supplyId);
  if (filter.from !== undefined) query = query.where('countedOn', '>=', filter.from);
  if (filter.to !== undefined) query = query.where('countedOn', '<=', filter.to);
  const by = ['supply_count.counted_on', 'supply_count.id'];
  return pageOf(db, query, { by, from: 'supply_count' }, { ...page, newestFirst: true });
}

export async function findSupplyCount(db: Kysely<Database>, id: string): Promise<SupplyCount> {
  const row = await selectCounts(db).where('supplyCount.id', '=', id).executeTakeFirst();
  if (row === undefined) throw new NotFound('count');
  return row;
}

/** The day of the last count of each supply on or before a day. */
export async function lastCounts(db: Kysely<Database>, on: string): Promise<Map<string, string>> {
  const rows = await db
    .selectFrom('supplyCount')
    .select(({ fn }) => ['supplyId', fn.max('countedOn').as('countedOn')])
    .where('countedOn', '<=', on)
    .groupBy('supplyId')
    .execute();
  return new Map(rows.map((row) => [row.supplyId, row.countedOn]));
}

/** Only the first count of a supply says what it cost; it must, unless a list price does. */
async function requireCostOfFirst(
  trx: Kysely<Database>,
  id: string | null,
  count: { supplyId: string; countedOn: string; quantity: string; unitCost: string | null },
): Promise<void> {
  const bought = await trx
    .selectFrom('supplyPurchase')
    .select('id')
    .where('supplyId', '=', count.supplyId)
    .where('boughtOn', '<=', count.countedOn)
    .limit(1)
    .executeTakeFirst();
  const counted = await trx
    .selectFrom('supplyCount')
    .select('id')
    .where('supplyId', '=', count.supplyId)
    .where('countedOn', '<', count.countedOn)
    .where('id', '<>', id ?? '00000000-0000-0000-0000-000000000000')
    .limit(1)
    .executeTakeFirst();
  const isFirst = bought === undefined && counted === undefined;
  if (!isFirst && count.unitCost !== null)
    throw new Refused('/unitCost', 'is only for a first count: the stock has its average cost already');
  if (isFirst && count.unitCost === null && Number(count.quantity) > 0) {
    const supply = await findSupply(trx, count.supplyId);
    if (priceOn(supply, count.countedOn) === null)
      throw new Refused(
        '/unitCost',
        `must be given with this first count: ${supply.name} was not bought yet and has no list price on ${count.countedOn}`,
      );
  }
}

export async function insertSupplyCount(
  db: Kysely<Database>,
  fields: z.infer<typeof newSupplyCount>,
): Promise<SupplyCount> {
  return inTransaction(db, async (trx) => {
    await requireStockable(trx, fields.supplyId);
    await requireCostOfFirst(trx, null, fields);
    const id = crypto.randomUUID();
    await trx
      .insertInto('supplyCount')
      .values({ id, ...fields })
      .execute();
    return findSupplyCount(trx, id);
  });
}

export async function updateSupplyCount(
  db: Kysely<Database>,
  id: string,
  fields: z.infer<typeof supplyCountChange>,
): Promise<SupplyCount> {
  return inTransaction(db, async (trx) => {
    const { version, ...row } = fields;
    await lockVersion(trx, 'supplyCount', 'count', id, version);
    await requireStockable(trx, row.supplyId);
    await requireCostOfFirst(trx, id, row);
    await trx
      .updateTable('supplyCount')
      .set({ ...row, version: version + 1 })
      .where('id', '=', id)
      .execute();
    return findSupplyCount(trx, id);
  });
}

export async function deleteSupplyCount(db: Kysely<Database>, id: string): Promise<void> {
  const { numDeletedRows } = await db.deleteFrom('supplyCount').where('id', '=', id).executeTakeFirst();
  if (numDeletedRows === 0n) throw new NotFound('count');
}
