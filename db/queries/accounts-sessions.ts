import { sql, type Kysely } from 'kysely';
import type { Role } from '../../api/schemas/account.ts';
import type { Database } from '../schema.ts';

/** After so long without a request a session has ended. */
export const IDLE_HOURS = 24;
/** After so long a session has ended in any case: NIST SP 800-63B-4, 2.1.3, at most 30 days. */
export const SESSION_DAYS = 30;
/** A session's last use is kept to so many minutes, so that not every request writes. */
const SEEN_STEP_MINUTES = 5;

const HOUR_MS = 3_600_000;

export interface SessionActor {
  accountId: string;
  name: string;
  role: Role;
  counterpartyId: string | null;
  sessionId: string;
  hasCodes: boolean;
}

const idleSince = (now: Date): string => new Date(now.getTime() - IDLE_HOURS * HOUR_MS).toISOString();

/** Whose session a token opens, while it lasts; notes that it was used. */
export async function sessionActor(
  db: Kysely<Database>,
  tokenHash: string,
  now: Date,
): Promise<SessionActor | undefined> {
  const row = await db
    .selectFrom('accountSession')
    .innerJoin('account', 'account.id', 'accountSession.accountId')
    .select([
      'account.id as accountId',
      'account.name',
      'account.role',
      'account.counterpartyId',
      'accountSession.id as sessionId',
      'accountSession.lastSeenAt',
      sql<boolean>`account.code_secret is not null`.as('hasCodes'),
    ])
    .where('accountSession.tokenHash', '=', tokenHash)
    .where('account.disabled', '=', false)
    .where('accountSession.expiresAt', '>', now.toISOString())
    .where('accountSession.lastSeenAt', '>', idleSince(now))
    .executeTakeFirst();
  if (row === undefined) return undefined;
  const { lastSeenAt, ...actor } = row;
  if (now.getTime() - new Date(lastSeenAt).getTime() > SEEN_STEP_MINUTES * 60_000)
    await db
      .updateTable('accountSession')
      .set({ lastSeenAt: now.toISOString() })
      .where('id', '=', row.sessionId)
      .execute();
  return actor;
}

export async function insertSession(
  db: Kysely<Database>,
  session: { accountId: string; tokenHash: string; now: Date; device: string; address: string },
): Promise<string> {
  const { accountId, tokenHash, now, device, address } = session;
  const id = crypto.randomUUID();
  // What has ended goes, so that the table does not grow.
  await db
    .deleteFrom('accountSession')
    .where((eb) => eb.or([eb('expiresAt', '<=', now.toISOString()), eb('lastSeenAt', '<=', idleSince(now))]))
    .execute();
  await db
    .insertInto('accountSession')
    .values({
      id,
      accountId,
      tokenHash,
      startedAt: now.toISOString(),
      lastSeenAt: now.toISOString(),
      expiresAt: new Date(now.getTime() + SESSION_DAYS * 24 * HOUR_MS).toISOString(),
      device: device.slice(0, 300),
      address: address.slice(0, 100),
    })
    .execute();
  return id;
}

/** The sessions of an account that are open, newest first. */
export async function listSessions(db: Kysely<Database>, accountId: string, now: Date) {
  return db
    .selectFrom('accountSession')
    .select(['id', 'startedAt', 'lastSeenAt', 'expiresAt', 'device', 'address'])
    .where('accountId', '=', accountId)
    .where('expiresAt', '>', now.toISOString())
    .where('lastSeenAt', '>', idleSince(now))
    .orderBy('startedAt', 'desc')
    .execute();
}

/** Ends one session; false where the account has no such session. */
export async function endSession(db: Kysely<Database>, accountId: string, id: string): Promise<boolean> {
  const { numDeletedRows } = await db
    .deleteFrom('accountSession')
    .where('id', '=', id)
    .where('accountId', '=', accountId)
    .executeTakeFirst();
  return numDeletedRows > 0n;
}

/** Ends all sessions of an account but one. */
export async function endOtherSessions(
  db: Kysely<Database>,
  accountId: string,
  keptId: string | null,
): Promise<void> {
  let query = db.deleteFrom('accountSession').where('accountId', '=', accountId);
  if (keptId !== null) query = query.where('id', '!=', keptId);
  await query.execute();
}
