import { isIPv6 } from 'node:net';
import type { z } from 'zod';
import { accountByName, nameKeyOf, type AccountSecrets } from '../../db/queries/accounts.ts';
import { spendRecoveryCode, takeCodeStep } from '../../db/queries/accounts-codes.ts';
import {
  countTry,
  forgetOldTries,
  forgetTries,
  takeBackTry,
  type Limit,
} from '../../db/queries/accounts-limits.ts';
import { insertSession } from '../../db/queries/accounts-sessions.ts';
import { Problem } from '../problem.ts';
import type { Deps } from '../routes/describe.ts';
import type { signIn as signInSchema } from '../schemas/account.ts';
import type { Passwords } from './passwords.ts';
import { recoveryCodeHash } from './recovery-codes.ts';
import { newToken, tokenHash } from './tokens.ts';
import { acceptedStep } from './totp.ts';

/** Of one account: five tries are free, then each wrong one doubles the wait. */
const ofAccount: Limit = { free: 5, firstWaitS: 30, longestWaitS: 3600, forgetAfterS: 10 * 365 * 86_400 };
/** Of one address, over all names that are tried from it. */
const ofAddress: Limit = { free: 30, firstWaitS: 30, longestWaitS: 900, forgetAfterS: 3600 };
/** NIST SP 800-63B-4, 3.2.2: no more than 100 consecutive failures on one account. */
const MOST_FAILURES = 100;

export interface Visitor {
  address: string;
  device: string;
}

const keyOfName = (name: string): string => `account ${tokenHash(nameKeyOf(name))}`;
const keyOfAddress = (address: string): string => `address ${tokenHash(networkOf(address))}`;

/** Counts a try to prove an account, and refuses it where there were too many. Names that are not there count alike. */
export async function allowTry({ db, now }: Deps, name: string, address: string): Promise<void> {
  const fromAddress = await countTry(db, keyOfAddress(address), now(), ofAddress);
  if ('waitS' in fromAddress) throw tooMany(fromAddress.waitS);
  const onAccount = await countTry(db, keyOfName(name), now(), ofAccount);
  if ('waitS' in onAccount) {
    // Nothing was looked at, so that nothing was learned from this address.
    await takeBackTry(db, keyOfAddress(address));
    throw tooMany(onAccount.waitS);
  }
  if (onAccount.tries > MOST_FAILURES)
    throw new Problem(
      'too-many',
      'There were too many wrong tries one after the other. The owner of the mill must give this account a new password.',
      { retryAfterS: ofAccount.longestWaitS },
    );
}

function tooMany(waitS: number): Problem {
  return new Problem(
    'too-many',
    `There were too many wrong tries. Try again in ${inWords(waitS)}; until then no try is looked at.`,
    { retryAfterS: waitS },
  );
}

/** Forgives the wrong tries once somebody has proved an account. */
export async function forgiveTries({ db, now }: Deps, name: string, address: string): Promise<void> {
  await forgetTries(db, keyOfName(name));
  await takeBackTry(db, keyOfAddress(address));
  await forgetOldTries(db, now());
}

/** Begins to count anew for an account that was given a new password. */
export async function forgetTriesOf({ db }: Deps, name: string): Promise<void> {
  await forgetTries(db, keyOfName(name));
}

/** Opens a session for whoever proves an account by its password and, where that is asked for, a code. */
export async function signIn(
  deps: Deps & { passwords: Passwords },
  typed: z.output<typeof signInSchema>,
  visitor: Visitor,
): Promise<{ token: string; account: AccountSecrets; sessionId: string }> {
  const { db, now, passwords } = deps;
  await allowTry(deps, typed.name, visitor.address);
  const found = await accountByName(db, typed.name);
  const account = found?.disabled === false ? found : undefined;
  // Also for a name that is not there: how long the answer takes tells nothing.
  const isRight = await passwords.verify(typed.password, account?.passwordHash ?? null);
  if (account === undefined || !isRight)
    throw new Problem('sign-in-refused', 'The name or the password is not right.');
  await requireCode(deps, account, typed.code);
  await forgiveTries(deps, typed.name, visitor.address);
  const token = newToken();
  const sessionId = await insertSession(db, {
    accountId: account.id,
    tokenHash: tokenHash(token),
    now: now(),
    ...visitor,
  });
  return { token, account, sessionId };
}

/** Refuses unless the account goes without codes, or a code of its telephone or one of its recovery codes is given. */
export async function requireCode({ db, now }: Deps, account: AccountSecrets, code: string): Promise<void> {
  const { id, codeSecret, codeLastStep } = account;
  if (codeSecret === null) return;
  if (code === '')
    throw new Problem('code-needed', 'Enter the code that your telephone shows, or a recovery code.');
  const step = acceptedStep(codeSecret, code, now(), codeLastStep);
  const isTaken =
    step === undefined
      ? await spendRecoveryCode(db, id, recoveryCodeHash(code))
      : await takeCodeStep(db, id, step);
  if (!isTaken) throw new Problem('sign-in-refused', 'The code is not right, or it was used before.');
}

/** Of an IPv6 address the first 64 bits, which are one subscriber's: RFC 6177. */
function networkOf(address: string): string {
  if (!isIPv6(address)) return address;
  const [head = '', tail] = address.split('::');
  const before = head === '' ? [] : head.split(':');
  const after = tail === undefined || tail === '' ? [] : tail.split(':');
  const zeros = Array<string>(Math.max(0, 8 - before.length - after.length)).fill('0');
  return [...before, ...(tail === undefined ? [] : zeros), ...after].slice(0, 4).join(':');
}

function inWords(seconds: number): string {
  if (seconds < 90) return `${seconds} seconds`;
  return `${Math.ceil(seconds / 60)} minutes`;
}
