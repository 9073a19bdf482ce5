import { sql, type Kysely } from 'kysely';
import type { z } from 'zod';
import type { newSupplyPurchase } from '../../api/schemas/supply-stock.ts';
import type { Database } from '../schema.ts';

export type NewPurchase = z.output<typeof newSupplyPurchase>;

/** The purchases that are recorded of the supplies and days of these. */
export async function recordedPurchases(
  db: Kysely<Database>,
  keys: readonly Pick<NewPurchase, 'supplyId' | 'boughtOn'>[],
): Promise<NewPurchase[]> {
  if (keys.length === 0) return [];
  const { rows } = await sql<NewPurchase>`
    select supply_id, bought_on, quantity, amount, currency, supplier, document, paid_on, remarks
    from supply_purchase
    where (supply_id, bought_on) in (
      select * from unnest(${keys.map((key) => key.supplyId)}::uuid[], ${keys.map((key) => key.boughtOn)}::date[]))`.execute(
    db,
  );
  return rows;
}

/** Enters purchases at once. */
export async function insertPurchases(
  trx: Kysely<Database>,
  purchases: readonly NewPurchase[],
): Promise<void> {
  await trx
    .insertInto('supplyPurchase')
    .values(purchases.map((purchase) => ({ id: crypto.randomUUID(), ...purchase })))
    .execute();
}
