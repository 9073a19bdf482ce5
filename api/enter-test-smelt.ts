import type { Kysely } from 'kysely';
import type { z } from 'zod';
import { insertBalance } from '../db/queries/balances.ts';
import { Refused } from '../db/queries/changed.ts';
import { inTransaction } from '../db/queries/in-transaction.ts';
import { insertSupply } from '../db/queries/supplies.ts';
import { insertTestSmelt, insertTrial, updateTestSmelt } from '../db/queries/test-smelts.ts';
import type { Database } from '../db/schema.ts';
import { toProblem } from './on-error.ts';
import { Problem } from './problem.ts';
import type { newTestSmelt, TestSmeltRecord } from './schemas/test-smelt.ts';
import type { TestSmeltEntry, testSmeltEntryChange } from './schemas/test-smelt-entry.ts';

/** Enters a test smelt and whatever new it names, all of it or nothing. */
export async function enterTestSmelt(db: Kysely<Database>, entry: TestSmeltEntry): Promise<TestSmeltRecord> {
  return inTransaction(db, async (trx) => insertTestSmelt(trx, await withNewEntered(trx, entry)));
}

/** Changes a test smelt and enters whatever new it names, all of it or nothing. */
export async function changeTestSmelt(
  db: Kysely<Database>,
  id: string,
  { version, ...entry }: z.output<typeof testSmeltEntryChange>,
): Promise<TestSmeltRecord> {
  return inTransaction(db, async (trx) =>
    updateTestSmelt(trx, id, { ...(await withNewEntered(trx, entry)), version }),
  );
}

/** The test smelt with the ids of what was entered for it. */
async function withNewEntered(
  trx: Kysely<Database>,
  entry: TestSmeltEntry,
): Promise<z.output<typeof newTestSmelt>> {
  const { trialId, newTrial, sampleBalanceId, newSampleBalance, beadBalanceId, newBeadBalance, ...smelt } =
    entry;
  const trial = await idOf('/trialId', trialId, '/newTrial', newTrial, (fields) => insertTrial(trx, fields));
  const balance = (fields: NonNullable<typeof newSampleBalance>) => insertBalance(trx, fields);
  const sample = await idOf(
    '/sampleBalanceId',
    sampleBalanceId,
    '/newSampleBalance',
    newSampleBalance,
    balance,
  );
  const sameAsSample = newSampleBalance !== null && beadBalanceId === null && newBeadBalance === null;
  const bead = sameAsSample
    ? sample
    : await idOf('/beadBalanceId', beadBalanceId, '/newBeadBalance', newBeadBalance, balance);
  const reagents = [];
  for (const [place, { supplyId, newSupply, massG }] of smelt.reagents.entries()) {
    const at = `/reagents/${place}`;
    const supply = await idOf(`${at}/supplyId`, supplyId, `${at}/newSupply`, newSupply, (fields) =>
      insertSupply(trx, fields),
    );
    reagents.push({ supplyId: supply, massG });
  }
  return { ...smelt, reagents, trialId: trial, sampleBalanceId: sample, beadBalanceId: bead };
}

/** The id that is given, or that of the record that is entered now: one of the two, not both. */
async function idOf<Fields extends { name: string }>(
  pointer: string,
  id: string | null,
  newPointer: string,
  fields: Fields | null,
  enter: (fields: Fields) => Promise<{ id: string }>,
): Promise<string> {
  if (fields === null) {
    if (id === null)
      throw new Refused(pointer, 'is missing: it must name a record, or a new one must be given');
    return id;
  }
  if (id !== null) throw new Refused(pointer, 'must be left empty where a new one is given');
  try {
    return (await enter(fields)).id;
  } catch (error) {
    throw error instanceof Error ? placed(newPointer, fields.name, error) : error;
  }
}

/** A refusal of a record within the entry, with its fields pointed to where they stand in the entry. */
function placed(pointer: string, name: string, error: Error): Error {
  const problem = toProblem(error);
  if (problem.status >= 500) return error;
  if (problem.kind === 'conflict') {
    const detail = `There is one called “${name}” already: choose it from the list, or give the new one another name.`;
    return new Problem('conflict', detail, {
      errors: [{ pointer: `${pointer}/name`, detail, value: name }],
      cause: error,
    });
  }
  const errors = problem.errors.map((one) => ({ ...one, pointer: `${pointer}${one.pointer}` }));
  return new Problem(problem.kind, problem.detail, { errors, cause: error });
}
