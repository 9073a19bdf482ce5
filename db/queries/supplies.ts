import type { Kysely } from 'kysely';
import type { z } from 'zod';
import { inTransaction } from './in-transaction.ts';
import { NotFound } from './changed.ts';
import { groupBy } from './group-by.ts';
import { numberOf } from './numbers.ts';
import { lockVersion } from './versioned.ts';
import type { newSupply, newSupplyPrice, Supply, supplyChange } from '../../api/schemas/supply.ts';
import type { Database } from '../schema.ts';

export async function listSupplies(db: Kysely<Database>): Promise<Supply[]> {
  const supplies = await db.selectFrom('supply').selectAll().orderBy('kind').orderBy('name').execute();
  const prices = groupBy(
    await db.selectFrom('supplyPrice').selectAll().orderBy('effectiveOn', 'desc').execute(),
    (row) => row.supplyId,
  );
  return supplies.map((supply) => ({
    ...supply,
    crucibleVolumeMl: numberOf(supply.crucibleVolumeMl),
    cupelLeadCapacityG: numberOf(supply.cupelLeadCapacityG),
    prices: (prices.get(supply.id) ?? []).map(({ supplyId: _supplyId, ...price }) => price),
  }));
}

export async function findSupply(db: Kysely<Database>, id: string): Promise<Supply> {
  const supply = (await listSupplies(db)).find((one) => one.id === id);
  if (supply === undefined) throw new NotFound('supply');
  return supply;
}

export async function insertSupply(db: Kysely<Database>, fields: z.infer<typeof newSupply>): Promise<Supply> {
  const id = crypto.randomUUID();
  await db
    .insertInto('supply')
    .values({ id, ...fields })
    .execute();
  return findSupply(db, id);
}

export async function updateSupply(
  db: Kysely<Database>,
  id: string,
  fields: z.infer<typeof supplyChange>,
): Promise<Supply> {
  return inTransaction(db, async (trx) => {
    const { version, ...row } = fields;
    await lockVersion(trx, 'supply', 'supply', id, version);
    await trx
      .updateTable('supply')
      .set({ ...row, version: version + 1 })
      .where('id', '=', id)
      .execute();
    return findSupply(trx, id);
  });
}

/** With its prices. A supply that a recipe, a test smelt or a batch names stays. */
export async function deleteSupply(db: Kysely<Database>, id: string): Promise<void> {
  const { numDeletedRows } = await db.deleteFrom('supply').where('id', '=', id).executeTakeFirst();
  if (numDeletedRows === 0n) throw new NotFound('supply');
}

/** One price a day and supply: a second one on the same day corrects the first. */
export async function putSupplyPrice(
  db: Kysely<Database>,
  supplyId: string,
  fields: z.infer<typeof newSupplyPrice>,
): Promise<Supply> {
  return inTransaction(db, async (trx) => {
    await findSupply(trx, supplyId);
    await trx
      .insertInto('supplyPrice')
      .values({ supplyId, ...fields })
      .onConflict((conflict) =>
        conflict
          .columns(['supplyId', 'effectiveOn'])
          .doUpdateSet({ price: fields.price, currency: fields.currency }),
      )
      .execute();
    return findSupply(trx, supplyId);
  });
}
