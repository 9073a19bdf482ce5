import type { Kysely } from 'kysely';
import type { z } from 'zod';
import { ChangedSince, NotFound } from './changed.ts';
import { numberOf } from './numbers.ts';
import type { Cupellation, cupellationChange, newCupellationProof } from '../../api/schemas/cupellation.ts';
import type { Database } from '../schema.ts';

/** How losses in cupelling are corrected for, and the proofs. */
export async function findCupellation(db: Kysely<Database>): Promise<Cupellation> {
  const { id: _id, ...settings } = await db.selectFrom('cupellation').selectAll().executeTakeFirstOrThrow();
  const proofs = await db
    .selectFrom('cupellationProof')
    .selectAll()
    .orderBy('provedOn')
    .orderBy('id')
    .execute();
  return {
    ...settings,
    goldLossFrac: numberOf(settings.goldLossFrac),
    goldLossStandardUncertaintyFrac: numberOf(settings.goldLossStandardUncertaintyFrac),
    silverLossFrac: numberOf(settings.silverLossFrac),
    silverLossStandardUncertaintyFrac: numberOf(settings.silverLossStandardUncertaintyFrac),
    proofs: proofs.map((proof) => ({
      ...proof,
      takenMg: numberOf(proof.takenMg),
      foundMg: numberOf(proof.foundMg),
    })),
  };
}

export async function updateCupellation(
  db: Kysely<Database>,
  fields: z.infer<typeof cupellationChange>,
): Promise<Cupellation> {
  const { version, ...row } = fields;
  const changed = await db
    .updateTable('cupellation')
    .set({ ...row, version: version + 1 })
    .where('version', '=', version)
    .executeTakeFirst();
  if (changed.numUpdatedRows === 0n)
    throw new ChangedSince('The cupellation correction', { table: 'cupellation', id: '1', version });
  return findCupellation(db);
}

export async function insertCupellationProof(
  db: Kysely<Database>,
  fields: z.infer<typeof newCupellationProof>,
): Promise<Cupellation> {
  await db
    .insertInto('cupellationProof')
    .values({ id: crypto.randomUUID(), ...fields })
    .execute();
  return findCupellation(db);
}

export async function deleteCupellationProof(db: Kysely<Database>, id: string): Promise<void> {
  const { numDeletedRows } = await db.deleteFrom('cupellationProof').where('id', '=', id).executeTakeFirst();
  if (numDeletedRows === 0n) throw new NotFound('proof');
}
