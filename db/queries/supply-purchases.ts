import type { Kysely } from 'kysely';
import type { z } from 'zod';
import { exchanged } from '../../api/calc/books/exchange.ts';
import type {
  newSupplyPurchase,
  SupplyPurchase,
  supplyPurchaseChange,
} from '../../api/schemas/supply-stock.ts';
import type { Database } from '../schema.ts';
import { NotFound, Refused } from './changed.ts';
import { listExchangeRates } from './exchange-rates.ts';
import { inTransaction } from './in-transaction.ts';
import { findMill } from './mill.ts';
import { pageOf, type PageAsked, type Paged } from './page.ts';
import { lockVersion } from './versioned.ts';

export interface PurchaseFilter {
  supplyId?: string | undefined;
  from?: string | undefined;
  to?: string | undefined;
}

function selectPurchases(db: Kysely<Database>) {
  return db
    .selectFrom('supplyPurchase')
    .innerJoin('supply', 'supply.id', 'supplyPurchase.supplyId')
    .select([
      'supplyPurchase.id',
      'supplyPurchase.supplyId',
      'supplyPurchase.boughtOn',
      'supplyPurchase.quantity',
      'supplyPurchase.amount',
      'supplyPurchase.currency',
      'supplyPurchase.supplier',
      'supplyPurchase.document',
      'supplyPurchase.paidOn',
      'supplyPurchase.remarks',
      'supplyPurchase.version',
      'supply.name as supplyName',
      'supply.unit as unit',
    ]);
}

/** Purchases, newest first, a page of them. */
export async function pageOfSupplyPurchases(
  db: Kysely<Database>,
  filter: PurchaseFilter,
  page: PageAsked,
): Promise<Paged<SupplyPurchase>> {
  let query = selectPurchases(db);
  if (filter.supplyId !== undefined) query = query.where('supplyId', '=', filter.supplyId);
  if (filter.from !== undefined) query = query.where('boughtOn', '>=', filter.from);
  if (filter.to !== undefined) query = query.where('boughtOn', '<=', filter.to);
  const by = ['supply_purchase.bought_on', 'supply_purchase.id'];
  return pageOf(db, query, { by, from: 'supply_purchase' }, { ...page, newestFirst: true });
}

export async function findSupplyPurchase(db: Kysely<Database>, id: string): Promise<SupplyPurchase> {
  const row = await selectPurchases(db).where('supplyPurchase.id', '=', id).executeTakeFirst();
  if (row === undefined) throw new NotFound('purchase');
  return row;
}

/** Hours of labour are worked, not kept in stock. */
export async function requireStockable(trx: Kysely<Database>, supplyId: string): Promise<void> {
  const supply = await trx.selectFrom('supply').select('kind').where('id', '=', supplyId).executeTakeFirst();
  if (supply === undefined) throw new Refused('/supplyId', 'names a supply that is not there');
  if (supply.kind === 'labour') throw new Refused('/supplyId', 'is labour, which is not kept in stock');
}

/** A purchase in another currency can only be told in the mill's with a rate. */
async function requireRate(
  trx: Kysely<Database>,
  { amount, currency, boughtOn }: { amount: string; currency: string; boughtOn: string },
): Promise<void> {
  const { currency: millCurrency } = await findMill(trx);
  if (currency === millCurrency) return;
  const rates = await listExchangeRates(trx, { currency, to: boughtOn }, 1);
  const told = exchanged({ amount, currency, on: boughtOn, millCurrency, rates });
  if (told.amount === null)
    throw new Refused(
      '/currency',
      `is ${currency}, of which no exchange rate on or before ${boughtOn} is entered: enter the rate first`,
    );
}

export async function insertSupplyPurchase(
  db: Kysely<Database>,
  fields: z.infer<typeof newSupplyPurchase>,
): Promise<SupplyPurchase> {
  return inTransaction(db, async (trx) => {
    await requireStockable(trx, fields.supplyId);
    await requireRate(trx, fields);
    const id = crypto.randomUUID();
    await trx
      .insertInto('supplyPurchase')
      .values({ id, ...fields })
      .execute();
    return findSupplyPurchase(trx, id);
  });
}

export async function updateSupplyPurchase(
  db: Kysely<Database>,
  id: string,
  fields: z.infer<typeof supplyPurchaseChange>,
): Promise<SupplyPurchase> {
  return inTransaction(db, async (trx) => {
    const { version, ...row } = fields;
    await lockVersion(trx, 'supplyPurchase', 'purchase', id, version);
    await requireStockable(trx, row.supplyId);
    await requireRate(trx, row);
    await trx
      .updateTable('supplyPurchase')
      .set({ ...row, version: version + 1 })
      .where('id', '=', id)
      .execute();
    return findSupplyPurchase(trx, id);
  });
}

export async function deleteSupplyPurchase(db: Kysely<Database>, id: string): Promise<void> {
  const { numDeletedRows } = await db.deleteFrom('supplyPurchase').where('id', '=', id).executeTakeFirst();
  if (numDeletedRows === 0n) throw new NotFound('purchase');
}
