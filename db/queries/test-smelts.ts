import { sql, type Kysely, type Selectable } from 'kysely';
import type { z } from 'zod';
import { inTransaction } from './in-transaction.ts';
import { NotFound } from './changed.ts';
import { groupBy } from './group-by.ts';
import { numberOf } from './numbers.ts';
import { filledIn, pageOf, type PageAsked, type Paged } from './page.ts';
import { lockVersion } from './versioned.ts';
import type {
  newTestSmelt,
  newTrial,
  TestSmeltRecord,
  testSmeltChange,
  Trial,
  trialChange,
  TrialWithSmelts,
} from '../../api/schemas/test-smelt.ts';
import type { Database, TestSmeltTable, TrialTable } from '../schema.ts';

function recordOf(row: Selectable<TestSmeltTable>, reagents: TestSmeltRecord['reagents']): TestSmeltRecord {
  return {
    ...row,
    reagents,
    sampleMassG: numberOf(row.sampleMassG),
    massBeforeRoastG: numberOf(row.massBeforeRoastG),
    massAfterRoastG: numberOf(row.massAfterRoastG),
    roastHours: numberOf(row.roastHours),
    roastTempC: numberOf(row.roastTempC),
    collectorLeadG: numberOf(row.collectorLeadG),
    ironInG: numberOf(row.ironInG),
    ironOutG: numberOf(row.ironOutG),
    crucibleVolumeMl: numberOf(row.crucibleVolumeMl),
    buttonG: numberOf(row.buttonG),
    matteG: numberOf(row.matteG),
    slagG: numberOf(row.slagG),
    beadMg: numberOf(row.beadMg),
    partedGoldMg: numberOf(row.partedGoldMg),
    inquartSilverMg: numberOf(row.inquartSilverMg),
    matteGoldGpt: numberOf(row.matteGoldGpt),
    matteSilverGpt: numberOf(row.matteSilverGpt),
    slagGoldGpt: numberOf(row.slagGoldGpt),
    slagSilverGpt: numberOf(row.slagSilverGpt),
    blankMgPerLeadG: numberOf(row.blankMgPerLeadG),
    blankStandardUncertaintyMgPerLeadG: numberOf(row.blankStandardUncertaintyMgPerLeadG),
  };
}

/** Test smelts with their reagents, in the order of the rows. */
export async function withReagents(
  db: Kysely<Database>,
  rows: Selectable<TestSmeltTable>[],
): Promise<TestSmeltRecord[]> {
  if (rows.length === 0) return [];
  const reagents = groupBy(
    await db
      .selectFrom('testSmeltReagent')
      .selectAll()
      .where(
        'testSmeltId',
        'in',
        rows.map((row) => row.id),
      )
      .orderBy('supplyId')
      .execute(),
    (row) => row.testSmeltId,
  );
  return rows.map((row) =>
    recordOf(
      row,
      (reagents.get(row.id) ?? []).map(({ supplyId, massG }) => ({ supplyId, massG: Number(massG) })),
    ),
  );
}

/** The trials of a lot, or of several, with their test smelts; without a lot, those of every lot. */
export async function listTrials(
  db: Kysely<Database>,
  lots?: string | readonly string[],
): Promise<TrialWithSmelts[]> {
  let query = db.selectFrom('trial').selectAll().orderBy('name');
  if (lots !== undefined) query = query.where('lotId', 'in', typeof lots === 'string' ? [lots] : lots);
  return withSmelts(db, await query.execute());
}

/** Trials lot by lot, as the lots were made, a page of them. */
export async function pageOfTrials(
  db: Kysely<Database>,
  filter: {
    ids?: readonly string[] | undefined;
    lotIds?: readonly string[] | undefined;
    seasonId?: string | undefined;
  },
  page: PageAsked,
): Promise<Paged<TrialWithSmelts>> {
  let query = db.selectFrom('trial').innerJoin('lot', 'lot.id', 'trial.lotId').selectAll('trial');
  if (filter.ids !== undefined) query = query.where('trial.id', '=', sql<string>`any(${filter.ids}::uuid[])`);
  if (filter.lotIds !== undefined)
    query = query.where('trial.lotId', '=', sql<string>`any(${filter.lotIds}::uuid[])`);
  if (filter.seasonId !== undefined) query = query.where('lot.seasonId', '=', filter.seasonId);
  const order = {
    by: ['lot.made_on', 'lot.code', 'trial.name', 'trial.id'],
    from: 'trial join lot on lot.id = trial.lot_id',
  };
  return filledIn(pageOf(db, query, order, page), (rows) => withSmelts(db, rows));
}

async function withSmelts(
  db: Kysely<Database>,
  trials: readonly Selectable<TrialTable>[],
): Promise<TrialWithSmelts[]> {
  if (trials.length === 0) return [];
  const rows = await db
    .selectFrom('testSmelt')
    .selectAll()
    .where(
      'trialId',
      'in',
      trials.map((trial) => trial.id),
    )
    .orderBy('smeltedOn')
    .orderBy('sample')
    .execute();
  const smelts = groupBy(await withReagents(db, rows), (smelt) => smelt.trialId);
  return trials.map((trial) => ({ ...trial, smelts: smelts.get(trial.id) ?? [] }));
}

export async function findTrial(db: Kysely<Database>, id: string): Promise<Trial> {
  const trial = await db.selectFrom('trial').selectAll().where('id', '=', id).executeTakeFirst();
  if (trial === undefined) throw new NotFound('trial');
  return trial;
}

export async function insertTrial(db: Kysely<Database>, fields: z.infer<typeof newTrial>): Promise<Trial> {
  const id = crypto.randomUUID();
  await db
    .insertInto('trial')
    .values({ id, ...fields })
    .execute();
  return findTrial(db, id);
}

export async function updateTrial(
  db: Kysely<Database>,
  id: string,
  fields: z.infer<typeof trialChange>,
): Promise<Trial> {
  return inTransaction(db, async (trx) => {
    const { version, ...row } = fields;
    await lockVersion(trx, 'trial', 'trial', id, version);
    await trx
      .updateTable('trial')
      .set({ ...row, version: version + 1 })
      .where('id', '=', id)
      .execute();
    return findTrial(trx, id);
  });
}

export async function deleteTrial(db: Kysely<Database>, id: string): Promise<void> {
  const { numDeletedRows } = await db.deleteFrom('trial').where('id', '=', id).executeTakeFirst();
  if (numDeletedRows === 0n) throw new NotFound('trial');
}

export async function findTestSmelt(db: Kysely<Database>, id: string): Promise<TestSmeltRecord> {
  const rows = await db.selectFrom('testSmelt').selectAll().where('id', '=', id).execute();
  const [smelt] = await withReagents(db, rows);
  if (smelt === undefined) throw new NotFound('test smelt');
  return smelt;
}

async function putReagents(
  trx: Kysely<Database>,
  testSmeltId: string,
  reagents: TestSmeltRecord['reagents'],
): Promise<void> {
  await trx.deleteFrom('testSmeltReagent').where('testSmeltId', '=', testSmeltId).execute();
  if (reagents.length > 0)
    await trx
      .insertInto('testSmeltReagent')
      .values(reagents.map((one) => ({ testSmeltId, ...one })))
      .execute();
}

export async function insertTestSmelt(
  db: Kysely<Database>,
  fields: z.infer<typeof newTestSmelt>,
  id: string = crypto.randomUUID(),
): Promise<TestSmeltRecord> {
  return inTransaction(db, async (trx) => {
    const { reagents, ...row } = fields;
    await trx
      .insertInto('testSmelt')
      .values({ id, ...row })
      .execute();
    await putReagents(trx, id, reagents);
    return findTestSmelt(trx, id);
  });
}

export async function updateTestSmelt(
  db: Kysely<Database>,
  id: string,
  fields: z.infer<typeof testSmeltChange>,
): Promise<TestSmeltRecord> {
  return inTransaction(db, async (trx) => {
    const { reagents, version, ...row } = fields;
    await lockVersion(trx, 'testSmelt', 'test smelt', id, version);
    await trx
      .updateTable('testSmelt')
      .set({ ...row, version: version + 1 })
      .where('id', '=', id)
      .execute();
    await putReagents(trx, id, reagents);
    return findTestSmelt(trx, id);
  });
}

export async function deleteTestSmelt(db: Kysely<Database>, id: string): Promise<void> {
  const { numDeletedRows } = await db.deleteFrom('testSmelt').where('id', '=', id).executeTakeFirst();
  if (numDeletedRows === 0n) throw new NotFound('test smelt');
}
