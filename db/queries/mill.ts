import type { Kysely } from 'kysely';
import type { z } from 'zod';
import { inTransaction } from './in-transaction.ts';
import { ChangedSince, NotFound } from './changed.ts';
import { lockVersion } from './versioned.ts';
import type { Mill, millChange, newSeason, Season, seasonChange } from '../../api/schemas/mill.ts';
import type { Database } from '../schema.ts';

export async function findMill(db: Kysely<Database>): Promise<Mill> {
  const { id: _id, ...mill } = await db.selectFrom('mill').selectAll().executeTakeFirstOrThrow();
  return mill;
}

export async function updateMill(db: Kysely<Database>, fields: z.infer<typeof millChange>): Promise<Mill> {
  const { version, ...row } = fields;
  const changed = await db
    .updateTable('mill')
    .set({ ...row, version: version + 1 })
    .where('version', '=', version)
    .executeTakeFirst();
  if (changed.numUpdatedRows === 0n)
    throw new ChangedSince('The settings', { table: 'mill', id: '1', version });
  return findMill(db);
}

/** An empty database gets a mill with neutral settings, once, so that the first page has something to show. */
export async function ensureMill(db: Kysely<Database>, year: number): Promise<void> {
  await inTransaction(db, async (trx) => {
    const inserted = await trx
      .insertInto('mill')
      .values({
        name: 'My mill',
        currency: 'USD',
        massUnit: 'kg',
        metalUnit: 'ozt',
        gradeUnit: 'g/t',
        temperatureUnit: '°C',
        paper: 'A4',
        importDateOrder: 'iso',
        decimalComma: false,
        isDemo: false,
      })
      .onConflict((conflict) => conflict.doNothing())
      .executeTakeFirst();
    if (inserted.numInsertedOrUpdatedRows === 0n) return;
    await trx
      .insertInto('season')
      .values({
        id: crypto.randomUUID(),
        name: String(year),
        startsOn: `${year}-01-01`,
        endsOn: `${year}-12-31`,
      })
      .execute();
  });
}

export async function listSeasons(db: Kysely<Database>): Promise<Season[]> {
  return db.selectFrom('season').selectAll().orderBy('startsOn', 'desc').execute();
}

export async function findSeason(db: Kysely<Database>, id: string): Promise<Season> {
  const season = await db.selectFrom('season').selectAll().where('id', '=', id).executeTakeFirst();
  if (season === undefined) throw new NotFound('season');
  return season;
}

export async function insertSeason(db: Kysely<Database>, fields: z.infer<typeof newSeason>): Promise<Season> {
  const id = crypto.randomUUID();
  await db
    .insertInto('season')
    .values({ id, ...fields })
    .execute();
  return findSeason(db, id);
}

export async function updateSeason(
  db: Kysely<Database>,
  id: string,
  fields: z.infer<typeof seasonChange>,
): Promise<Season> {
  return inTransaction(db, async (trx) => {
    const { version, ...row } = fields;
    await lockVersion(trx, 'season', 'season', id, version);
    await trx
      .updateTable('season')
      .set({ ...row, version: version + 1 })
      .where('id', '=', id)
      .execute();
    return findSeason(trx, id);
  });
}
