import { sql, type Kysely } from 'kysely';
import type { z } from 'zod';
import { withReagents } from './test-smelts.ts';
import type { newTestSmelt, newTrial, TestSmeltRecord, Trial } from '../../api/schemas/test-smelt.ts';
import type { Database } from '../schema.ts';

/** A statement takes 65,535 parameters at most. */
const READ_AT_ONCE = 10_000;

/** What the names in a file of test smelts are looked up in. */
export async function testSmeltNames(db: Kysely<Database>) {
  return {
    lots: await db.selectFrom('lot').select(['id', 'code']).orderBy('code').execute(),
    balances: await db.selectFrom('balance').select(['id', 'name']).orderBy('name').execute(),
    supplies: await db.selectFrom('supply').select(['id', 'name', 'kind']).orderBy('name').execute(),
    treatments: await db.selectFrom('treatment').select(['id', 'name']).orderBy('name').execute(),
  };
}

export async function trialsOfLots(db: Kysely<Database>, lotIds: readonly string[]): Promise<Trial[]> {
  return db
    .selectFrom('trial')
    .selectAll()
    .where('lotId', '=', sql<string>`any(${lotIds}::uuid[])`)
    .execute();
}

export async function testSmeltsOfTrials(
  db: Kysely<Database>,
  trialIds: readonly string[],
): Promise<TestSmeltRecord[]> {
  const rows = await db
    .selectFrom('testSmelt')
    .selectAll()
    .where('trialId', '=', sql<string>`any(${trialIds}::uuid[])`)
    .execute();
  const smelts: TestSmeltRecord[] = [];
  for (let from = 0; from < rows.length; from += READ_AT_ONCE)
    smelts.push(...(await withReagents(db, rows.slice(from, from + READ_AT_ONCE))));
  return smelts;
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
