import type { Kysely } from 'kysely';
import { newToken, tokenHash } from '../../../api/accounts/tokens.ts';
import { insertSession } from '../../../db/queries/accounts-sessions.ts';
import type { Database } from '../../../db/schema.ts';

/** Lets an owner in past the password, whatever became of the account; gives the cookie. */
export async function setSession(db: Kysely<Database>, accountId: string, now: Date): Promise<string> {
  await db
    .updateTable('account')
    .set({ role: 'owner', disabled: false })
    .where('id', '=', accountId)
    .execute();
  const token = newToken();
  await insertSession(db, { accountId, tokenHash: tokenHash(token), now, device: 'fuzz', address: 'fuzz' });
  return `poursheet_session=${token}`;
}
