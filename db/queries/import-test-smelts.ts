import { sql, type Kysely } from 'kysely';
import type { z } from 'zod';
import { withReagents } from './test-smelts.ts';
import type { newTestSmelt, newTrial, TestSmeltRecord, Trial } from '../../api/schemas/test-smelt.ts';
import type { Database } from '../schema.ts';

/** What the names in a file of test smelts are looked up in. */
export async function testSmeltNames(db: Kysely<Database>) {
  return {
    lots: await db.selectFrom('lot').select(['id', 'code']).orderBy('code').execute(),
    balances: await db.selectFrom('balance').select(['id', 'name']).orderBy('name').execute(),
    supplies: await db.selectFrom('supply').select(['id', 'name', 'kind']).orderBy('name').execute(),
    treatments: await db.selectFrom('treatment').select(['id', 'name']).orderBy('name').execute(),
  };
}

/** The trials that are recorded under these lots and names. */
export async function trialsNamed(
  db: Kysely<Database>,
  keys: readonly { lotId: string; name: string }[],
): Promise<Trial[]> {
  const { rows } = await sql<Trial>`
    select trial.* from trial
    join unnest(${keys.map(({ lotId }) => lotId)}::uuid[], ${keys.map(({ name }) => name)}::text[])
      as wanted (lot_id, name) using (lot_id, name)`.execute(db);
  return rows;
}

/** The test smelts that are recorded under these trials and samples. */
export async function testSmeltsNamed(
  db: Kysely<Database>,
  keys: readonly { trialId: string; sample: string }[],
): Promise<TestSmeltRecord[]> {
  const rows = await db
    .selectFrom('testSmelt')
    .selectAll('testSmelt')
    .innerJoin(
      sql<{ trialId: string; sample: string }>`
        (select distinct * from unnest(${keys.map(({ trialId }) => trialId)}::uuid[],
          ${keys.map(({ sample }) => sample)}::text[]) as one (trial_id, sample))`.as('wanted'),
      (join) =>
        join
          .onRef('wanted.trialId', '=', 'testSmelt.trialId')
          .onRef('wanted.sample', '=', 'testSmelt.sample'),
    )
    .execute();
  return withReagents(db, rows);
}

/** Gives the id of each trial, in their order. */
export async function insertTrials(
  trx: Kysely<Database>,
  trials: readonly z.output<typeof newTrial>[],
): Promise<string[]> {
  if (trials.length === 0) return [];
  const rows = trials.map((trial) => ({ id: crypto.randomUUID(), ...trial }));
  await trx.insertInto('trial').values(rows).execute();
  return rows.map(({ id }) => id);
}

export async function insertTestSmelts(
  trx: Kysely<Database>,
  smelts: readonly z.output<typeof newTestSmelt>[],
): Promise<void> {
  const rows = smelts.map(({ reagents, ...smelt }) => ({
    smelt: { id: crypto.randomUUID(), ...smelt },
    reagents,
  }));
  await trx
    .insertInto('testSmelt')
    .values(rows.map(({ smelt }) => smelt))
    .execute();
  const reagents = rows.flatMap((row) => row.reagents.map((one) => ({ testSmeltId: row.smelt.id, ...one })));
  if (reagents.length > 0) await trx.insertInto('testSmeltReagent').values(reagents).execute();
}
