import { sql, type Kysely, type Selectable } from 'kysely';
import { inTransaction } from './in-transaction.ts';
import { groupBy } from './group-by.ts';
import { insertParts, lockLot, partsOfLots, partsTakenFromLots } from './lot-parts.ts';
import { samplingOf } from './lot-sampling.ts';
import { lotLeftKg } from './material-sources.ts';
import { numberOf } from './numbers.ts';
import { anywhere, filledIn, pageOf, type PageAsked, type Paged } from './page.ts';
import { lockVersion } from './versioned.ts';
import { requireWithinSeason } from './within-season.ts';
import { writeOffsOfLots } from './write-offs.ts';
import { NotFound, Refused } from './changed.ts';
import { blendedMinerals } from '../../api/calc/production/blended-minerals.ts';
import type {
  LabAssay,
  Lot,
  lotChange,
  LotPurchase,
  newLabAssay,
  newLotOfParts,
} from '../../api/schemas/lot.ts';
import type { NewLotPart } from '../../api/schemas/lot-part.ts';
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
    sql<string>`coalesce((select trim_scale(sum(lot_part.dry_mass_kg)) from lot_part
        where lot_part.from_lot_id = lot.id), 0)`.as('takenByLotsKg'),
    sql<string>`coalesce((select trim_scale(sum(write_off.mass_kg)) from write_off
        where write_off.lot_id = lot.id), 0)`.as('writtenOffKg'),
    lotLeftKg.as('leftKg'),
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
  const parts = groupBy(await partsOfLots(db, ids), (part) => part.lotId);
  const taken = groupBy(await partsTakenFromLots(db, ids), (part) => part.sourceId);
  const writeOffs = groupBy(await writeOffsOfLots(db, ids), (one) => one.lotId);
  const purchases = new Map(
    (await db.selectFrom('lotPurchase').selectAll().where('lotId', 'in', ids).execute()).map(
      ({ lotId, ...purchase }) => [lotId, purchase],
    ),
  );
  return rows.map((row) => ({
    ...row,
    minerals: (minerals.get(row.id) ?? []).map(({ mineral, massFrac }) => ({
      mineral: mineral as Lot['minerals'][number]['mineral'],
      massFrac,
    })),
    labAssays: (assays.get(row.id) ?? []).map(assayOf),
    sampling: samplings.get(row.id) ?? null,
    parts: parts.get(row.id) ?? [],
    takenByLots: taken.get(row.id) ?? [],
    writeOffs: writeOffs.get(row.id) ?? [],
    purchase: purchases.get(row.id) ?? null,
  }));
}

/** All lots, or those of a season, oldest first. */
export async function listLots(db: Kysely<Database>, seasonId?: string): Promise<Lot[]> {
  let query = selectLots(db);
  if (seasonId !== undefined) query = query.where('lot.seasonId', '=', seasonId);
  return withParts(db, await query.orderBy('lot.madeOn').orderBy('lot.code').execute());
}

export interface LotFilter {
  ids?: readonly string[] | undefined;
  seasonId?: string | undefined;
  /** Part of the code or of the description. */
  sought?: string | undefined;
  /** Of which something is left. */
  left?: boolean | undefined;
  /** Of which test smelts were made. */
  tested?: boolean | undefined;
  /** The lots of one customer. */
  ownedBy?: string | undefined;
}

/** Lots in the order they were made, a page of them. */
export async function pageOfLots(
  db: Kysely<Database>,
  { ids, seasonId, sought, left, tested, ownedBy }: LotFilter,
  page: PageAsked,
): Promise<Paged<Lot>> {
  let query = selectLots(db);
  if (ids !== undefined) query = query.where('lot.id', '=', sql<string>`any(${ids}::uuid[])`);
  if (seasonId !== undefined) query = query.where('lot.seasonId', '=', seasonId);
  if (sought !== undefined)
    query = query.where((where) =>
      where.or([
        where('lot.code', 'ilike', anywhere(sought)),
        where('lot.description', 'ilike', anywhere(sought)),
      ]),
    );
  if (left === true) query = query.where(sql<boolean>`${lotLeftKg} > 0`);
  if (tested === true)
    query = query.where(
      sql<boolean>`exists (select 1 from trial join test_smelt on test_smelt.trial_id = trial.id
        where trial.lot_id = lot.id)`,
    );
  if (ownedBy !== undefined) query = query.where('lot.ownerCounterpartyId', '=', ownedBy);
  const order = { by: ['lot.made_on', 'lot.code', 'lot.id'], from: 'lot' };
  return filledIn(pageOf(db, query, order, page), (rows) => withParts(db, rows));
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

async function putMinerals(trx: Kysely<Database>, lotId: string, minerals: Lot['minerals']): Promise<void> {
  await trx.deleteFrom('lotMineral').where('lotId', '=', lotId).execute();
  if (minerals.length > 0)
    await trx
      .insertInto('lotMineral')
      .values(minerals.map((one) => ({ lotId, ...one })))
      .execute();
}

export async function insertLot(
  db: Kysely<Database>,
  fields: z.output<typeof newLotOfParts>,
  id: string = crypto.randomUUID(),
): Promise<Lot> {
  return inTransaction(db, async (trx) => {
    const { minerals, parts, ...row } = fields;
    await requireWithinSeason(trx, row.seasonId, '/madeOn', row.madeOn);
    await trx
      .insertInto('lot')
      .values({ id, ...row })
      .execute();
    await insertParts(trx, { id, code: row.code, madeOn: row.madeOn }, parts);
    await putMinerals(trx, id, minerals.length > 0 ? minerals : await mineralsOfParts(trx, parts));
    return findLot(trx, id);
  });
}

/** The minerals of a lot that is made from others, by mass. */
async function mineralsOfParts(
  trx: Kysely<Database>,
  parts: z.output<typeof newLotOfParts>['parts'],
): Promise<Lot['minerals']> {
  if (parts.length === 0 || parts.some(({ source }) => source !== 'lot')) return [];
  const rows = await trx
    .selectFrom('lotMineral')
    .selectAll()
    .where(
      'lotId',
      'in',
      parts.map(({ sourceId }) => sourceId),
    )
    .execute();
  return blendedMinerals(
    parts.map(({ sourceId, dryMassKg }) => ({
      dryMassKg,
      minerals: rows
        .filter(({ lotId }) => lotId === sourceId)
        .map(({ mineral, massFrac }) => ({
          mineral: mineral as Lot['minerals'][number]['mineral'],
          massFrac,
        })),
    })),
  );
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
        `leaves less dry mass (${lot.dryMassKg} kg) than test smelts, batches, other lots and write-offs have already taken`,
      );
    requireDaysInOrder(lot);
    return lot;
  });
}

/** A lot is made after its parts were taken, and before anything is taken from it. */
function requireDaysInOrder(lot: Lot): void {
  const lastPart = lot.parts.at(-1);
  if (lastPart !== undefined && lastPart.takenOn > lot.madeOn)
    throw new Refused(
      '/madeOn',
      `is ${lot.madeOn}, before ${lastPart.sourceCode} was taken for it on ${lastPart.takenOn}`,
    );
  const [firstTaken] = lot.takenByLots;
  if (firstTaken !== undefined && firstTaken.takenOn < lot.madeOn)
    throw new Refused(
      '/madeOn',
      `is ${lot.madeOn}, after lot ${firstTaken.lotCode} was made from it on ${firstTaken.takenOn}`,
    );
}

/** Adds a part to a lot that is there, and gives the lot with it. */
export async function addPartToLot(db: Kysely<Database>, lotId: string, part: NewLotPart): Promise<Lot> {
  return inTransaction(db, async (trx) => {
    await insertParts(trx, await lockLot(trx, lotId), [part], () => '');
    return findLot(trx, lotId);
  });
}

/** What a lot was bought for, in place of what was said before; null: it was not bought. */
export async function putLotPurchase(
  db: Kysely<Database>,
  lotId: string,
  purchase: LotPurchase | null,
): Promise<Lot> {
  return inTransaction(db, async (trx) => {
    await lockLot(trx, lotId);
    await trx.deleteFrom('lotPurchase').where('lotId', '=', lotId).execute();
    if (purchase !== null)
      await trx
        .insertInto('lotPurchase')
        .values({ lotId, ...purchase })
        .execute();
    return findLot(trx, lotId);
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
