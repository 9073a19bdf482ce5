import { sql, type Kysely } from 'kysely';
import { listProductionDays } from './production-days.ts';
import { seasonOfDay } from './within-season.ts';
import type { NewProductionDay } from '../../api/schemas/production-day.ts';
import type { Database } from '../schema.ts';

/** The days of the log that are recorded under these dates, as they would be entered. */
export async function recordedDays(
  db: Kysely<Database>,
  dates: readonly string[],
): Promise<NewProductionDay[]> {
  const [first, last] = [dates.toSorted()[0], dates.toSorted().at(-1)];
  if (first === undefined) return [];
  const wanted = new Set(dates);
  return (await listProductionDays(db, { from: first, to: last })).filter(({ day }) => wanted.has(day));
}

/** Enters days at once; gives their ids in order. Each lies in a season of its own date. */
export async function insertDays(
  trx: Kysely<Database>,
  days: readonly NewProductionDay[],
): Promise<string[]> {
  const seasons = new Map<string, string>();
  for (const { day } of days) if (!seasons.has(day)) seasons.set(day, await seasonOfDay(trx, '/day', day));
  const rows = days.map((day) => ({ id: crypto.randomUUID(), ...day }));
  await trx
    .insertInto('productionDay')
    .values(
      rows.map(({ supplies: _supplies, labour: _labour, ...row }) => ({
        ...row,
        seasonId: seasons.get(row.day) ?? '',
      })),
    )
    .execute();
  const used = rows.flatMap(({ id, supplies }) => supplies.map((one) => ({ ...one, id })));
  if (used.length > 0)
    await sql`
      insert into production_day_supply (production_day_id, supply_id, quantity)
      select * from unnest(${used.map((one) => one.id)}::uuid[], ${used.map((one) => one.supplyId)}::uuid[],
        ${used.map((one) => one.quantity)}::numeric[])`.execute(trx);
  const people = rows.flatMap(({ id, labour }) => labour.map((one, place) => ({ ...one, id, place })));
  if (people.length > 0)
    await sql`
      insert into production_day_labour (production_day_id, place, person, supply_id, hours)
      select * from unnest(${people.map((one) => one.id)}::uuid[], ${people.map((one) => one.place)}::integer[],
        ${people.map((one) => one.person)}::text[], ${people.map((one) => one.supplyId)}::uuid[],
        ${people.map((one) => one.hours)}::numeric[])`.execute(trx);
  return rows.map(({ id }) => id);
}
