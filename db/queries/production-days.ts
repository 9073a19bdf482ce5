import { sql, type Kysely } from 'kysely';
import { NotFound, Refused } from './changed.ts';
import { groupBy } from './group-by.ts';
import { inTransaction } from './in-transaction.ts';
import { filledIn, pageOf, type PageAsked, type Paged } from './page.ts';
import { lockVersion } from './versioned.ts';
import { seasonOfDay } from './within-season.ts';
import { Dec } from '../../api/calc/money.ts';
import type { z } from 'zod';
import type {
  NewProductionDay,
  ProductionDay,
  productionDayChange,
} from '../../api/schemas/production-day.ts';
import type { Database } from '../schema.ts';

const dryConcentrate = sql<string | null>`trim_scale(concentrate_wet_kg * (1 - concentrate_moisture_frac))`;
const takenFromDay = sql<string>`coalesce((select trim_scale(sum(lot_part.dry_mass_kg)) from lot_part
  where lot_part.production_day_id = production_day.id), 0)`;

function selectDays(db: Kysely<Database>) {
  return db
    .selectFrom('productionDay')
    .selectAll('productionDay')
    .select([
      sql<string | null>`trim_scale(feed_quantity * feed_tonnes_per_unit * (1 - feed_moisture_frac))`.as(
        'feedDryT',
      ),
      dryConcentrate.as('concentrateDryKg'),
      takenFromDay.as('takenKg'),
      sql<string>`trim_scale(coalesce(concentrate_wet_kg * (1 - concentrate_moisture_frac), 0)
        - ${takenFromDay})`.as('leftKg'),
    ]);
}

async function withParts(
  db: Kysely<Database>,
  rows: Awaited<ReturnType<ReturnType<typeof selectDays>['execute']>>,
): Promise<ProductionDay[]> {
  if (rows.length === 0) return [];
  const ids = sql<string>`any(${rows.map(({ id }) => id)}::uuid[])`;
  const supplies = groupBy(
    await db
      .selectFrom('productionDaySupply')
      .innerJoin('supply', 'supply.id', 'productionDaySupply.supplyId')
      .select(['productionDayId', 'supplyId', 'quantity'])
      .where('productionDayId', '=', ids)
      .orderBy('supply.name')
      .execute(),
    (row) => row.productionDayId,
  );
  const labour = groupBy(
    await db
      .selectFrom('productionDayLabour')
      .selectAll()
      .where('productionDayId', '=', ids)
      .orderBy('place')
      .execute(),
    (row) => row.productionDayId,
  );
  return rows.map(({ enteredAt: _enteredAt, ...row }) => ({
    ...row,
    supplies: (supplies.get(row.id) ?? []).map(({ supplyId, quantity }) => ({ supplyId, quantity })),
    labour: (labour.get(row.id) ?? []).map(({ person, supplyId, hours }) => ({ person, supplyId, hours })),
  }));
}

const byDay = { by: ['production_day.day', 'production_day.id'], from: 'production_day' };

/** All days of a span of days, oldest first. */
export async function listProductionDays(
  db: Kysely<Database>,
  { from, to }: { from?: string | undefined; to?: string | undefined },
): Promise<ProductionDay[]> {
  let query = selectDays(db).orderBy('day');
  if (from !== undefined) query = query.where('day', '>=', from);
  if (to !== undefined) query = query.where('day', '<=', to);
  return withParts(db, await query.execute());
}

/** The days of a season, of a span of days, or both, a page of them. */
export async function pageOfDays(
  db: Kysely<Database>,
  filter: { seasonId?: string | undefined; from?: string | undefined; to?: string | undefined },
  page: PageAsked,
): Promise<Paged<ProductionDay>> {
  let query = selectDays(db);
  if (filter.seasonId !== undefined) query = query.where('seasonId', '=', filter.seasonId);
  if (filter.from !== undefined) query = query.where('day', '>=', filter.from);
  if (filter.to !== undefined) query = query.where('day', '<=', filter.to);
  return filledIn(pageOf(db, query, byDay, page), (rows) => withParts(db, rows));
}

/** Days with concentrate that no lot was made from yet, a page of them. */
export async function daysWithConcentrate(
  db: Kysely<Database>,
  page: PageAsked,
): Promise<Paged<ProductionDay>> {
  const left = selectDays(db).where(sql<boolean>`
    production_day.concentrate_wet_kg * (1 - production_day.concentrate_moisture_frac) > ${takenFromDay}`);
  return filledIn(pageOf(db, left, byDay, page), (rows) => withParts(db, rows));
}

export async function findProductionDay(db: Kysely<Database>, id: string): Promise<ProductionDay> {
  const [day] = await withParts(db, await selectDays(db).where('id', '=', id).execute());
  if (day === undefined) throw new NotFound('day');
  return day;
}

type Parts = Pick<NewProductionDay, 'supplies' | 'labour'>;

/** Wages are hours of people, and nothing else is. */
async function requireKinds(trx: Kysely<Database>, { supplies, labour }: Parts): Promise<void> {
  const kinds = new Map(
    (await trx.selectFrom('supply').select(['id', 'kind', 'name']).execute()).map((row) => [row.id, row]),
  );
  supplies.forEach(({ supplyId }, at) => {
    if (kinds.get(supplyId)?.kind === 'labour')
      throw new Refused(`/supplies/${at}/supplyId`, 'is a wage: enter the hours under the people who worked');
  });
  labour.forEach(({ supplyId }, at) => {
    const supply = kinds.get(supplyId);
    if (supply !== undefined && supply.kind !== 'labour')
      throw new Refused(`/labour/${at}/supplyId`, `is ${supply.name}, which is no wage`);
  });
}

export async function putDayParts(
  trx: Kysely<Database>,
  id: string,
  { supplies, labour }: Parts,
): Promise<void> {
  if (supplies.length > 0)
    await trx
      .insertInto('productionDaySupply')
      .values(supplies.map((one) => ({ productionDayId: id, ...one })))
      .execute();
  if (labour.length > 0)
    await trx
      .insertInto('productionDayLabour')
      .values(labour.map((one, place) => ({ productionDayId: id, place, ...one })))
      .execute();
}

export async function insertProductionDay(
  db: Kysely<Database>,
  fields: NewProductionDay,
): Promise<ProductionDay> {
  return inTransaction(db, async (trx) => {
    const { supplies, labour, ...row } = fields;
    const id = crypto.randomUUID();
    const seasonId = await seasonOfDay(trx, '/day', fields.day);
    await requireKinds(trx, fields);
    await trx
      .insertInto('productionDay')
      .values({ id, seasonId, ...row })
      .execute();
    await putDayParts(trx, id, { supplies, labour });
    return findProductionDay(trx, id);
  });
}

export async function updateProductionDay(
  db: Kysely<Database>,
  id: string,
  fields: z.infer<typeof productionDayChange>,
): Promise<ProductionDay> {
  return inTransaction(db, async (trx) => {
    const { supplies, labour, version, ...row } = fields;
    await lockVersion(trx, 'productionDay', 'day', id, version);
    const seasonId = await seasonOfDay(trx, '/day', fields.day);
    await requireKinds(trx, fields);
    await trx
      .updateTable('productionDay')
      .set({ ...row, seasonId, version: version + 1 })
      .where('id', '=', id)
      .execute();
    await trx.deleteFrom('productionDaySupply').where('productionDayId', '=', id).execute();
    await trx.deleteFrom('productionDayLabour').where('productionDayId', '=', id).execute();
    await putDayParts(trx, id, { supplies, labour });
    const day = await findProductionDay(trx, id);
    await requireStillThere(trx, day);
    return day;
  });
}

/** What lots were made from stays: the day keeps at least that concentrate, and comes no later than they took it. */
async function requireStillThere(trx: Kysely<Database>, day: ProductionDay): Promise<void> {
  if (new Dec(day.leftKg).isNegative())
    throw new Refused(
      '/concentrateWetKg',
      `leaves less dry concentrate (${day.concentrateDryKg ?? '0'} kg) than lots were made from (${day.takenKg} kg)`,
    );
  const { first } = await trx
    .selectFrom('lotPart')
    .select(({ fn }) => fn.min('takenOn').as('first'))
    .where('productionDayId', '=', day.id)
    .executeTakeFirstOrThrow();
  if (first !== null && first < day.day)
    throw new Refused('/day', `is ${day.day}, after a lot was made from its concentrate on ${first}`);
}

/** A day that lots were made from stays. */
export async function deleteProductionDay(db: Kysely<Database>, id: string): Promise<void> {
  const { numDeletedRows } = await db.deleteFrom('productionDay').where('id', '=', id).executeTakeFirst();
  if (numDeletedRows === 0n) throw new NotFound('day');
}
