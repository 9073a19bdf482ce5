import type { Kysely } from 'kysely';
import { inTransaction } from './in-transaction.ts';
import type { Database } from '../schema.ts';

/** Keeps a secret that was shown, until a first code proves that the telephone has it. */
export async function offerCodeSecret(db: Kysely<Database>, id: string, secret: string): Promise<void> {
  await db.updateTable('account').set({ codeSecretOffered: secret }).where('id', '=', id).execute();
}

/** From now on codes of this secret are asked for; the recovery codes replace those before. */
export async function confirmCodeSecret(
  db: Kysely<Database>,
  id: string,
  confirmed: { secret: string; step: number; recoveryHashes: readonly string[] },
): Promise<void> {
  const { secret, step, recoveryHashes } = confirmed;
  await inTransaction(db, async (trx) => {
    await trx
      .updateTable('account')
      .set({ codeSecret: secret, codeSecretOffered: null, codeLastStep: step })
      .where('id', '=', id)
      .execute();
    await trx.deleteFrom('accountRecoveryCode').where('accountId', '=', id).execute();
    await trx
      .insertInto('accountRecoveryCode')
      .values(recoveryHashes.map((codeHash) => ({ accountId: id, codeHash })))
      .execute();
  });
}

/** Notes that the code of a step was taken; false when that step or a later one was taken before, at any process. */
export async function takeCodeStep(db: Kysely<Database>, id: string, step: number): Promise<boolean> {
  const { numUpdatedRows } = await db
    .updateTable('account')
    .set({ codeLastStep: step })
    .where('id', '=', id)
    .where((eb) => eb.or([eb('codeLastStep', 'is', null), eb('codeLastStep', '<', step)]))
    .executeTakeFirst();
  return numUpdatedRows > 0n;
}

/** Spends a recovery code; false where there is none such left. */
export async function spendRecoveryCode(
  db: Kysely<Database>,
  id: string,
  codeHash: string,
): Promise<boolean> {
  const { numDeletedRows } = await db
    .deleteFrom('accountRecoveryCode')
    .where('accountId', '=', id)
    .where('codeHash', '=', codeHash)
    .executeTakeFirst();
  return numDeletedRows > 0n;
}

export async function recoveryCodesLeft(db: Kysely<Database>, id: string): Promise<number> {
  const rows = await db
    .selectFrom('accountRecoveryCode')
    .select('codeHash')
    .where('accountId', '=', id)
    .execute();
  return rows.length;
}
