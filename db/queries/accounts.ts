import { sql, type Kysely, type Selectable } from 'kysely';
import type { z } from 'zod';
import { inTransaction } from './in-transaction.ts';
import { ChangedSince, NotFound, Refused } from './changed.ts';
import type { Account, accountChange, newAccount } from '../../api/schemas/account.ts';
import type { AccountTable, Database } from '../schema.ts';

/** A name as it is compared: how it is typed, wide or narrow, large or small, makes no other account. */
export function nameKeyOf(name: string): string {
  return name.normalize('NFKC').trim().replaceAll(/\s+/g, ' ').toLowerCase();
}

export async function listAccounts(db: Kysely<Database>, now: Date): Promise<Account[]> {
  return selectAccounts(db, now).orderBy('account.nameKey').execute();
}

export async function findAccount(db: Kysely<Database>, id: string, now: Date): Promise<Account> {
  const row = await selectAccounts(db, now).where('account.id', '=', id).executeTakeFirst();
  if (row === undefined) throw new NotFound('account');
  return row;
}

function selectAccounts(db: Kysely<Database>, now: Date) {
  const at = now.toISOString();
  return db
    .selectFrom('account')
    .select([
      'account.id',
      'account.version',
      'account.name',
      'account.role',
      'account.counterpartyId',
      'account.disabled',
      sql<boolean>`account.password_hash is not null`.as('hasPassword'),
      sql<boolean>`account.code_secret is not null`.as('hasCodes'),
      sql<string | null>`(select max(last_seen_at) from account_session where account_id = account.id)`.as(
        'lastSeenAt',
      ),
      sql<number>`(select count(*)::int from account_session where account_id = account.id and expires_at > ${at})`.as(
        'openSessions',
      ),
    ]);
}

/** An account with what it is proved by. */
export type AccountSecrets = Selectable<AccountTable>;

export async function accountByName(db: Kysely<Database>, name: string): Promise<AccountSecrets | undefined> {
  return db.selectFrom('account').selectAll().where('nameKey', '=', nameKeyOf(name)).executeTakeFirst();
}

export async function accountById(db: Kysely<Database>, id: string): Promise<AccountSecrets> {
  const row = await db.selectFrom('account').selectAll().where('id', '=', id).executeTakeFirst();
  if (row === undefined) throw new NotFound('account');
  return row;
}

export async function insertAccount(
  db: Kysely<Database>,
  fields: z.output<typeof newAccount>,
  now: Date,
): Promise<string> {
  const id = crypto.randomUUID();
  await db
    .insertInto('account')
    .values({ id, ...fields, nameKey: nameKeyOf(fields.name), createdAt: now.toISOString() })
    .execute();
  return id;
}

/** Whether somebody can come in as the owner. */
export async function ownerCanSignIn(db: Kysely<Database>): Promise<boolean> {
  const row = await db
    .selectFrom('account')
    .select('id')
    .where('role', '=', 'owner')
    .where('disabled', '=', false)
    .where('passwordHash', 'is not', null)
    .limit(1)
    .executeTakeFirst();
  return row !== undefined;
}

/** One change of who the owners are after the other, so that two at once cannot leave nobody. */
const OWNERS_LOCK = 7_031_105;

/** Changes an account; whoever may not come in any more is out at once. The last owner stays one. */
export async function updateAccount(
  db: Kysely<Database>,
  id: string,
  fields: z.output<typeof accountChange>,
): Promise<void> {
  const { version, ...row } = fields;
  await inTransaction(db, async (trx) => {
    await sql`select pg_advisory_xact_lock(${OWNERS_LOCK})`.execute(trx);
    const before = await trx
      .selectFrom('account')
      .select(['version', 'role'])
      .where('id', '=', id)
      .forUpdate()
      .executeTakeFirst();
    if (before === undefined) throw new NotFound('account');
    if (before.version !== version) throw new ChangedSince('The account');
    await trx
      .updateTable('account')
      .set({ ...row, nameKey: nameKeyOf(row.name), version: version + 1 })
      .where('id', '=', id)
      .execute();
    if (before.role === 'owner' && !(await ownerCanSignIn(trx)))
      throw new Refused(
        row.role === 'owner' ? '/disabled' : '/role',
        'cannot be changed so: nobody else could come in as the owner. Make another owner first',
      );
    if (row.disabled) await trx.deleteFrom('accountSession').where('accountId', '=', id).execute();
  });
}

/** A new password: everybody who is in with the old one is out, and links to set one are spent. */
export async function setPassword(
  trx: Kysely<Database>,
  id: string,
  { passwordHash, now, keepSessionId }: { passwordHash: string; now: Date; keepSessionId: string | null },
): Promise<void> {
  await trx
    .updateTable('account')
    .set({ passwordHash, passwordSetAt: now.toISOString() })
    .where('id', '=', id)
    .execute();
  let others = trx.deleteFrom('accountSession').where('accountId', '=', id);
  if (keepSessionId !== null) others = others.where('id', '!=', keepSessionId);
  await others.execute();
  await trx.deleteFrom('accountSetup').where('accountId', '=', id).execute();
}

/** The owner's account as the console makes it, or makes it good again. */
export async function putOwner(
  db: Kysely<Database>,
  owner: { name: string; passwordHash: string; now: Date },
): Promise<'made' | 'renewed'> {
  const { name, passwordHash, now } = owner;
  return inTransaction(db, async (trx) => {
    const found = await accountByName(trx, name);
    const id = found?.id ?? (await insertAccount(trx, { name, role: 'owner', counterpartyId: null }, now));
    await setPassword(trx, id, { passwordHash, now, keepSessionId: null });
    await removeCodes(trx, id);
    await trx
      .updateTable('account')
      .set({ role: 'owner', counterpartyId: null, disabled: false })
      .where('id', '=', id)
      .execute();
    await trx.deleteFrom('signInLimit').execute();
    return found === undefined ? 'made' : 'renewed';
  });
}

/** From now on the password alone is enough. */
export async function removeCodes(trx: Kysely<Database>, id: string): Promise<void> {
  await trx
    .updateTable('account')
    .set({ codeSecret: null, codeSecretOffered: null, codeLastStep: null })
    .where('id', '=', id)
    .execute();
  await trx.deleteFrom('accountRecoveryCode').where('accountId', '=', id).execute();
}
