import { sql, type Kysely } from 'kysely';
import { NotFound } from './changed.ts';
import type { DownloadLink } from '../../api/schemas/account.ts';
import type { Database } from '../schema.ts';

/** A link under which an account's password is chosen once; a new one replaces the one before. */
export async function putSetupLink(
  db: Kysely<Database>,
  accountId: string,
  { tokenHash, expiresAt }: { tokenHash: string; expiresAt: string },
): Promise<void> {
  await db
    .insertInto('accountSetup')
    .values({ accountId, tokenHash, expiresAt })
    .onConflict((conflict) => conflict.column('accountId').doUpdateSet({ tokenHash, expiresAt }))
    .execute();
}

/** Whose password a link sets, while it holds. */
export async function setupAccount(db: Kysely<Database>, tokenHash: string, now: Date) {
  return db
    .selectFrom('accountSetup')
    .innerJoin('account', 'account.id', 'accountSetup.accountId')
    .select(['account.id', 'account.name', 'account.nameKey', 'account.disabled'])
    .where('accountSetup.tokenHash', '=', tokenHash)
    .where('accountSetup.expiresAt', '>', now.toISOString())
    .executeTakeFirst();
}

/** Takes a set-up link out of use; false where another request was quicker. */
export async function spendSetupLink(trx: Kysely<Database>, tokenHash: string): Promise<boolean> {
  const { numDeletedRows } = await trx
    .deleteFrom('accountSetup')
    .where('tokenHash', '=', tokenHash)
    .executeTakeFirst();
  return numDeletedRows > 0n;
}

function selectLinks(db: Kysely<Database>) {
  return db
    .selectFrom('downloadLink')
    .innerJoin('season', 'season.id', 'downloadLink.seasonId')
    .select([
      'downloadLink.id',
      'downloadLink.what',
      'downloadLink.seasonId',
      'season.name as seasonName',
      'downloadLink.remarks',
      'downloadLink.madeBy',
      'downloadLink.madeAt',
      'downloadLink.expiresAt',
      'downloadLink.revokedAt',
      'downloadLink.lastUsedAt',
      'downloadLink.uses',
    ]);
}

export async function listDownloadLinks(db: Kysely<Database>): Promise<DownloadLink[]> {
  return selectLinks(db).orderBy('downloadLink.madeAt', 'desc').execute();
}

export async function insertDownloadLink(
  db: Kysely<Database>,
  link: {
    tokenHash: string;
    what: string;
    seasonId: string;
    remarks: string;
    madeBy: string;
    now: Date;
    expiresAt: Date;
  },
): Promise<DownloadLink> {
  const { now, expiresAt, ...row } = link;
  const id = crypto.randomUUID();
  await db
    .insertInto('downloadLink')
    .values({ id, ...row, madeAt: now.toISOString(), expiresAt: expiresAt.toISOString() })
    .execute();
  return selectLinks(db).where('downloadLink.id', '=', id).executeTakeFirstOrThrow();
}

/** From now on nothing comes of the link; it stays in the list. */
export async function revokeDownloadLink(db: Kysely<Database>, id: string, now: Date): Promise<void> {
  const { numUpdatedRows } = await db
    .updateTable('downloadLink')
    .set({ revokedAt: sql<string>`coalesce(revoked_at, ${now.toISOString()}::timestamptz)` })
    .where('id', '=', id)
    .executeTakeFirst();
  if (numUpdatedRows === 0n) throw new NotFound('download link');
}

/** What a link leads to, while it holds; its use is counted. */
export async function useDownloadLink(
  db: Kysely<Database>,
  tokenHash: string,
  now: Date,
): Promise<{ what: string; seasonId: string } | undefined> {
  return db
    .updateTable('downloadLink')
    .set({ lastUsedAt: now.toISOString(), uses: sql<number>`uses + 1` })
    .where('tokenHash', '=', tokenHash)
    .where('revokedAt', 'is', null)
    .where('expiresAt', '>', now.toISOString())
    .returning(['what', 'seasonId'])
    .executeTakeFirst();
}
