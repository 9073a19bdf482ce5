import { inTransaction } from '../../db/queries/in-transaction.ts';
import { accountById, removeCodes } from '../../db/queries/accounts.ts';
import { confirmCodeSecret, offerCodeSecret } from '../../db/queries/accounts-codes.ts';
import { findMill } from '../../db/queries/mill.ts';
import { Problem } from '../problem.ts';
import type { Deps } from '../routes/describe.ts';
import { proveAgain, requireGoodPassword } from './new-password.ts';
import type { Passwords } from './passwords.ts';
import { newRecoveryCodes, recoveryCodeHash } from './recovery-codes.ts';
import { acceptedStep, newSecret, otpauthLink } from './totp.ts';

type AccountDeps = Deps & { passwords: Passwords };
interface Proof {
  accountId: string;
  password: string;
  address: string;
}

/** Shows a secret for a telephone; it counts once a first code of it has come. */
export async function offerCodes(deps: AccountDeps, proof: Proof): Promise<{ secret: string; link: string }> {
  const { db } = deps;
  await proveAgain(deps, proof.accountId, { ...proof, pointer: '/password' });
  const { name } = await accountById(db, proof.accountId);
  const mill = await findMill(db);
  const secret = newSecret();
  await offerCodeSecret(db, proof.accountId, secret);
  return { secret, link: otpauthLink({ issuer: `Poursheet ${mill.name}`, name, secret }) };
}

/** Asks for codes from now on; gives the recovery codes, which are shown this once. */
export async function confirmCodes({ db, now }: Deps, accountId: string, code: string): Promise<string[]> {
  const { codeSecretOffered: secret } = await accountById(db, accountId);
  if (secret === null)
    throw new Problem('conflict', 'No secret was shown for this account. Begin again with the password.');
  const step = acceptedStep(secret, code, now(), null);
  if (step === undefined) {
    const detail =
      'The code is not right. Look whether the clock of the telephone is, and enter the next one.';
    throw new Problem('validation', detail, { errors: [{ pointer: '/code', detail }] });
  }
  const recoveryCodes = newRecoveryCodes();
  await confirmCodeSecret(db, accountId, {
    secret,
    step,
    recoveryHashes: recoveryCodes.map(recoveryCodeHash),
  });
  return recoveryCodes;
}

/** Goes back to the password alone, which must then be long enough for that. */
export async function stopCodes(deps: AccountDeps, proof: Proof): Promise<void> {
  const { db } = deps;
  await proveAgain(deps, proof.accountId, { ...proof, pointer: '/password' });
  const { name } = await accountById(db, proof.accountId);
  await requireGoodPassword(deps, proof.password, { name, hasCodes: false });
  await inTransaction(db, (trx) => removeCodes(trx, proof.accountId));
}
