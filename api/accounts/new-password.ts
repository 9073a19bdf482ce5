import { inTransaction } from '../../db/queries/in-transaction.ts';
import { accountById, removeCodes, setPassword } from '../../db/queries/accounts.ts';
import { putSetupLink, setupAccount, spendSetupLink } from '../../db/queries/accounts-links.ts';
import { findMill } from '../../db/queries/mill.ts';
import { Problem } from '../problem.ts';
import type { Deps } from '../routes/describe.ts';
import { passwordFault } from './password-rules.ts';
import type { Passwords } from './passwords.ts';
import { allowTry, forgetTriesOf, forgiveTries, requireCode } from './sign-in.ts';
import { newToken, tokenHash } from './tokens.ts';

type AccountDeps = Deps & { passwords: Passwords };

/** How long a link to choose a password holds. */
const SETUP_DAYS = 7;

/** Refuses a password that the rules do not admit, at its field. */
export async function requireGoodPassword(
  { db }: Deps,
  password: string,
  { name, hasCodes }: { name: string; hasCodes: boolean },
): Promise<void> {
  const mill = await findMill(db);
  const words = [name, mill.name].flatMap((text) => [text, ...text.split(/\s+/)]);
  const fault = passwordFault(password, { hasCodes, words: [...words, 'poursheet'] });
  if (fault !== undefined)
    throw new Problem('validation', `The password ${fault}.`, {
      errors: [{ pointer: '/password', detail: `The password ${fault}.` }],
    });
}

/** Makes the link under which an account's password is chosen; only its hash is kept. */
export async function makeSetupLink(
  { db, now }: Deps,
  accountId: string,
): Promise<{ setupPath: string; expiresAt: string }> {
  const token = newToken();
  const expiresAt = new Date(now().getTime() + SETUP_DAYS * 86_400_000).toISOString();
  await putSetupLink(db, accountId, { tokenHash: tokenHash(token), expiresAt });
  // After the #, which a browser sends to no server: the link stands in no log.
  return { setupPath: `/set-password#${token}`, expiresAt };
}

/** Sets the password that somebody chose under a link. The account begins anew: codes are asked for no more. */
export async function choosePassword(
  deps: AccountDeps,
  { token, password }: { token: string; password: string },
): Promise<string> {
  const { db, now, passwords } = deps;
  const account = await setupAccount(db, tokenHash(token), now());
  if (account === undefined || account.disabled)
    throw new Problem(
      'not-found',
      'This link does not hold any more. Ask the owner of the mill for a new one.',
    );
  await requireGoodPassword(deps, password, { name: account.name, hasCodes: false });
  const passwordHash = await passwords.hash(password);
  await inTransaction(db, async (trx) => {
    if (!(await spendSetupLink(trx, tokenHash(token))))
      throw new Problem('not-found', 'This link was used already. Ask the owner of the mill for a new one.');
    await setPassword(trx, account.id, { passwordHash, now: now(), keepSessionId: null });
    await removeCodes(trx, account.id);
  });
  await forgetTriesOf(deps, account.name);
  return account.name;
}

/** Proves once more who sits there, before something is changed that opens the door. */
export async function proveAgain(
  deps: AccountDeps,
  accountId: string,
  typed: { password: string; code?: string; pointer: string; address: string },
): Promise<void> {
  const account = await accountById(deps.db, accountId);
  await allowTry(deps, account.name, typed.address);
  if (!(await deps.passwords.verify(typed.password, account.passwordHash)))
    throw new Problem('sign-in-refused', 'The password is not right.', {
      errors: [{ pointer: typed.pointer, detail: 'The password is not right.' }],
    });
  if (typed.code !== undefined) await requireCode(deps, account, typed.code);
  await forgiveTries(deps, account.name, typed.address);
}

/** Changes one's own password; other sessions of the account end. */
export async function changePassword(
  deps: AccountDeps,
  who: { accountId: string; sessionId: string | null; address: string },
  typed: { current: string; password: string; code: string },
): Promise<void> {
  const { db, now, passwords } = deps;
  const { accountId, sessionId, address } = who;
  await proveAgain(deps, accountId, {
    password: typed.current,
    code: typed.code,
    pointer: '/current',
    address,
  });
  const account = await accountById(db, accountId);
  await requireGoodPassword(deps, typed.password, {
    name: account.name,
    hasCodes: account.codeSecret !== null,
  });
  const passwordHash = await passwords.hash(typed.password);
  await inTransaction(db, (trx) =>
    setPassword(trx, accountId, { passwordHash, now: now(), keepSessionId: sessionId }),
  );
}
