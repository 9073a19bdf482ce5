import { sql, type Kysely, type Selectable } from 'kysely';
import { inTransaction } from './in-transaction.ts';
import { groupBy } from './group-by.ts';
import { samplingOf } from './lot-sampling.ts';
import { numberOf } from './numbers.ts';
import { lockVersion } from './versioned.ts';
import { requireWithinSeason } from './within-season.ts';
import { NotFound, Refused } from './changed.ts';
import type { LabAssay, Lot, lotChange, newLabAssay, newLot } from '../../api/schemas/lot.ts';
import type { Screening } from '../../api/schemas/screen-metallics.ts';
import type { Database, LabAssayTable } from '../schema.ts';
import type { z } from 'zod';

/** A lot's masses, exact in the database's decimals; cancelled batches give their mass back. */
function selectLots(db: Kysely<Database>) {
  return db.selectFrom('lot').select([
    'lot.id',
    'lot.seasonId',
    'lot.code',
    'lot.description',
    'lot.madeOn',
    'lot.wetMassKg',
    'lot.moistureFrac',
    'lot.remarks',
    'lot.ownerCounterpartyId',
    'lot.version',
    sql<string>`trim_scale(lot.wet_mass_kg * (1 - lot.moisture_frac))`.as('dryMassKg'),
    sql<string>`coalesce((select trim_scale(sum(test_smelt.sample_mass_g) / 1000) from test_smelt
        join trial on trial.id = test_smelt.trial_id where trial.lot_id = lot.id), 0)`.as(
      'takenByTestSmeltsKg',
    ),
    sql<string>`coalesce((select trim_scale(sum(batch.dry_mass_kg)) from batch
        where batch.lot_id = lot.id and batch.status <> 'cancelled'), 0)`.as('takenByBatchesKg'),
  ]);
}

function assayOf({ lotId: _lotId, ...row }: Selectable<LabAssayTable>): LabAssay {
  return {
    ...row,
    sampleMassG: numberOf(row.sampleMassG),
    screenMetallics: row.screenMetallics as Screening | null,
  };
}

async function withParts(
  db: Kysely<Database>,
  rows: Awaited<ReturnType<ReturnType<typeof selectLots>['execute']>>,
): Promise<Lot[]> {
  if (rows.length === 0) return [];
  const ids = rows.map((row) => row.id);
  const minerals = groupBy(
    await db.selectFrom('lotMineral').selectAll().where('lotId', 'in', ids).orderBy('mineral').execute(),
    (row) => row.lotId,
  );
  const assays = groupBy(
    await db.selectFrom('labAssay').selectAll().where('lotId', 'in', ids).orderBy('assayedOn').execute(),
    (row) => row.lotId,
  );
  const samplings = new Map(
    (await db.selectFrom('lotSampling').selectAll().where('lotId', 'in', ids).execute()).map((row) => [
      row.lotId,
      samplingOf(row),
    ]),
  );
  const left = await db
    .selectFrom(selectLots(db).where('lot.id', 'in', ids).as('lot'))
    .select([
      'id',
      sql<string>`trim_scale(dry_mass_kg - taken_by_test_smelts_kg - taken_by_batches_kg)`.as('leftKg'),
    ])
    .execute();
  const leftById = new Map(left.map((row) => [row.id, row.leftKg]));
  return rows.map((row) => ({
    ...row,
    leftKg: leftById.get(row.id) ?? '0',
    minerals: (minerals.get(row.id) ?? []).map(({ mineral, massFrac }) => ({
      mineral: mineral as Lot['minerals'][number]['mineral'],
      massFrac,
    })),
    labAssays: (assays.get(row.id) ?? []).map(assayOf),
    sampling: samplings.get(row.id) ?? null,
  }));
}

/** `ownedBy` leaves only the lots of one customer. */
export async function listLots(db: Kysely<Database>, seasonId?: string, ownedBy?: string): Promise<Lot[]> {
  let query = selectLots(db).orderBy('lot.madeOn').orderBy('lot.code');
  if (seasonId !== undefined) query = query.where('lot.seasonId', '=', seasonId);
  if (ownedBy !== undefined) query = query.where('lot.ownerCounterpartyId', '=', ownedBy);
  return withParts(db, await query.execute());
}

/** Some lots, oldest first; an id that is not there is left out. */
export async function findLots(db: Kysely<Database>, ids: readonly string[]): Promise<Lot[]> {
  if (ids.length === 0) return [];
  const query = selectLots(db).where('lot.id', 'in', ids).orderBy('lot.madeOn').orderBy('lot.code');
  return withParts(db, await query.execute());
}

export async function findLot(db: Kysely<Database>, id: string): Promise<Lot> {
  const [lot] = await withParts(db, await selectLots(db).where('lot.id', '=', id).execute());
  if (lot === undefined) throw new NotFound('lot');
  return lot;
}

async function putMinerals(
  trx: Kysely<Database>,
  lotId: string,
  minerals: z.infer<typeof newLot>['minerals'],
): Promise<void> {
  await trx.deleteFrom('lotMineral').where('lotId', '=', lotId).execute();
  if (minerals.length > 0)
    await trx
      .insertInto('lotMineral')
      .values(minerals.map((one) => ({ lotId, ...one })))
      .execute();
}

export async function insertLot(
  db: Kysely<Database>,
  fields: z.infer<typeof newLot>,
  id: string = crypto.randomUUID(),
): Promise<Lot> {
  return inTransaction(db, async (trx) => {
    const { minerals, ...row } = fields;
    await requireWithinSeason(trx, row.seasonId, '/madeOn', row.madeOn);
    await trx
      .insertInto('lot')
      .values({ id, ...row })
      .execute();
    await putMinerals(trx, id, minerals);
    return findLot(trx, id);
  });
}

export async function updateLot(
  db: Kysely<Database>,
  id: string,
  fields: z.infer<typeof lotChange>,
): Promise<Lot> {
  return inTransaction(db, async (trx) => {
    const { minerals, version, ...row } = fields;
    await lockVersion(trx, 'lot', 'lot', id, version);
    await requireWithinSeason(trx, row.seasonId, '/madeOn', row.madeOn);
    await trx
      .updateTable('lot')
      .set({ ...row, version: version + 1 })
      .where('id', '=', id)
      .execute();
    await putMinerals(trx, id, minerals);
    const lot = await findLot(trx, id);
    if (lot.leftKg.startsWith('-'))
      throw new Refused(
        '/wetMassKg',
        `leaves less dry mass (${lot.dryMassKg} kg) than test smelts and batches have already taken`,
      );
    return lot;
  });
}

export async function deleteLot(db: Kysely<Database>, id: string): Promise<void> {
  const { numDeletedRows } = await db.deleteFrom('lot').where('id', '=', id).executeTakeFirst();
  if (numDeletedRows === 0n) throw new NotFound('lot');
}

export async function insertLabAssay(
  db: Kysely<Database>,
  lotId: string,
  fields: z.infer<typeof newLabAssay> & { screenMetallics?: Screening },
): Promise<LabAssay> {
  const { screenMetallics = null, ...plain } = fields;
  const row = await db
    .insertInto('labAssay')
    .values({
      id: crypto.randomUUID(),
      ...plain,
      lotId,
      screenMetallics: screenMetallics === null ? null : JSON.stringify(screenMetallics),
    })
    .returningAll()
    .executeTakeFirstOrThrow();
  return assayOf(row);
}

export async function deleteLabAssay(db: Kysely<Database>, lotId: string, id: string): Promise<void> {
  const { numDeletedRows } = await db
    .deleteFrom('labAssay')
    .where('id', '=', id)
    .where('lotId', '=', lotId)
    .executeTakeFirst();
  if (numDeletedRows === 0n) throw new NotFound('lab assay');
}
