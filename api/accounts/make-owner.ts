import type { Readable, Writable } from 'node:stream';
import { createInterface } from 'node:readline';
import { putOwner } from '../../db/queries/accounts.ts';
import { findMill } from '../../db/queries/mill.ts';
import type { Deps } from '../routes/describe.ts';
import { accountName, password as passwordSchema } from '../schemas/account.ts';
import { passwordFault } from './password-rules.ts';
import { createPasswords } from './passwords.ts';

/** Thrown when what was typed makes no account; the message is for the owner. */
export class CannotMakeOwnerError extends Error {
  override name = 'CannotMakeOwnerError';
}

interface Console {
  input: Readable & { isTTY?: boolean; setRawMode?: (raw: boolean) => unknown };
  output: Writable;
}

/**
 * Makes the owner's account, or gives the one of that name a new password, from what is typed at the console: name,
 * password, and on a terminal the password again. Not from the command line, where others would read it.
 */
export async function makeOwner(deps: Deps, { input, output }: Console): Promise<string> {
  const isTerminal = input.isTTY === true;
  const answers = await ask(
    isTerminal
      ? [
          'Name of the owner’s account: ',
          'Password (15 characters or more, not shown): ',
          'The password again: ',
        ]
      : ['', ''],
    { input, output },
  );
  const [typedName = '', password = '', again = password] = answers;
  if (again !== password) throw new CannotMakeOwnerError('The two passwords differ. No account was made.');
  const name = accountName.safeParse(typedName);
  if (!name.success)
    throw new CannotMakeOwnerError(`The name ${name.error.issues[0]?.message ?? ''}. No account was made.`);
  const mill = await findMill(deps.db);
  const fault =
    passwordSchema.safeParse(password).error?.issues[0]?.message ??
    passwordFault(password, { hasCodes: false, words: [name.data, mill.name, 'poursheet'] });
  if (fault !== undefined) throw new CannotMakeOwnerError(`The password ${fault}. No account was made.`);
  const passwordHash = await (deps.passwords ?? createPasswords()).hash(password);
  const done = await putOwner(deps.db, { name: name.data, passwordHash, now: deps.now() });
  return done === 'made'
    ? `The owner’s account ${name.data} is made. From now on everybody signs in.`
    : `The account ${name.data} is the owner’s and has the new password; it was signed out everywhere, and codes are asked for no more.`;
}

/** Asks one line after the other; everything after the first is not shown while it is typed. */
async function ask(questions: readonly string[], { input, output }: Console): Promise<string[]> {
  const isTerminal = input.isTTY === true;
  let isHidden = false;
  const reader = createInterface({
    input,
    terminal: isTerminal,
    // On a terminal the reader itself shows what is typed.
    ...(isTerminal ? { output: shownUnless(() => isHidden, output) } : {}),
  });
  const lines = reader[Symbol.asyncIterator]();
  const answers: string[] = [];
  try {
    for (const [place, question] of questions.entries()) {
      output.write(question);
      isHidden = place > 0;
      const line = await lines.next();
      isHidden = false;
      if (place > 0 && isTerminal) output.write('\n');
      if (line.done === true)
        throw new CannotMakeOwnerError(
          'A name and a password are needed, one line each. No account was made.',
        );
      answers.push(line.value);
    }
  } finally {
    reader.close();
  }
  return answers;
}

function shownUnless(isHidden: () => boolean, output: Writable): NodeJS.WritableStream {
  return Object.assign(Object.create(output) as Writable, {
    write: (chunk: string | Uint8Array) => (isHidden() ? true : output.write(chunk)),
  });
}
