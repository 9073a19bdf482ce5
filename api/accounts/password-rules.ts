import { commonPasswords } from './common-passwords.ts';
import { comparedForm } from './passwords.ts';

/**
 * NIST SP 800-63B-4 (2025), 3.1.1.2: at least 15 characters where the password is the only factor, at least 8 where a
 * second factor goes with it; every code point counts as one character; no rules of composition; the whole password is
 * held against a list of common and expected ones; it is never cut off.
 */
export const SHORTEST_ALONE = 15;
export const SHORTEST_WITH_CODES = 8;

export interface PasswordContext {
  hasCodes: boolean;
  /** Words that a stranger would try: the name of the account and of the mill. */
  words: readonly string[];
}

/** What is wrong with a new password, as a sentence that goes on after "Password"; undefined when it may be taken. */
export function passwordFault(password: string, { hasCodes, words }: PasswordContext): string | undefined {
  const form = comparedForm(password);
  const shortest = hasCodes ? SHORTEST_WITH_CODES : SHORTEST_ALONE;
  const { length } = Array.from(form);
  if (length < shortest)
    return `is ${length} characters long: it must have at least ${shortest}. A few words that do not belong together are easy to keep in mind`;
  const plain = bare(form);
  if (isRepeated(form.toLowerCase()) || isRun(plain))
    return 'is the same over and over, or a row of the keyboard: choose another';
  const core = plain.replace(/^\d+|\d+$/g, '');
  const expected = new Set(words.map(bare).filter((word) => word.length > 2));
  for (const word of [plain, core, unitOf(plain), unitOf(core)]) {
    if (commonPasswords.has(word)) return 'is among those that are tried first: choose another';
    if (isMadeOf(word, expected)) return 'is made of names that anybody here would try: choose another';
  }
  return undefined;
}

/** Letters and digits alone, in lower case: what is common stays common with a point between its words. */
function bare(text: string): string {
  return comparedForm(text)
    .toLowerCase()
    .replaceAll(/[^\p{L}\p{N}]/gu, '');
}

/** The shortest part that a text repeats; the text itself where it repeats none. */
function unitOf(text: string): string {
  const again = `${text}${text}`.indexOf(text, 1);
  return again > 0 && text.length % again === 0 ? text.slice(0, again) : text;
}

function isRepeated(text: string): boolean {
  return unitOf(text).length <= 4;
}

const rows = [
  'abcdefghijklmnopqrstuvwxyz',
  '01234567890123456789',
  'qwertyuiopasdfghjklzxcvbnm',
  'qwertzuiopasdfghjklyxcvbnm',
  'azertyuiopqsdfghjklmwxcvbn',
].map((row) => row.repeat(12));
const allRows = [...rows, ...rows.map((row) => Array.from(row).toReversed().join(''))];

function isRun(text: string): boolean {
  return text.length >= SHORTEST_WITH_CODES && allRows.some((row) => row.includes(text));
}

/** Whether a text is nothing but expected words and common ones, one after the other. */
function isMadeOf(text: string, expected: ReadonlySet<string>): boolean {
  if (![...expected].some((word) => text.includes(word))) return false;
  const reachable = [true];
  for (let end = 1; end <= text.length; end += 1)
    reachable[end] = Array.from({ length: end }, (_, start) => start).some((start) => {
      const word = text.slice(start, end);
      return (
        reachable[start] === true && (expected.has(word) || commonPasswords.has(word) || /^\d$/.test(word))
      );
    });
  return reachable[text.length] === true;
}
