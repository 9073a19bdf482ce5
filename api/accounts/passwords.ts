import { randomBytes, scrypt, timingSafeEqual, type ScryptOptions } from 'node:crypto';
import { Problem } from '../problem.ts';

/**
 * Passwords are kept as scrypt (RFC 7914) of their NFKC form, with a salt of 128 bits. N = 2^17, r = 8, p = 1 takes
 * 128 MiB for each: OWASP, Password Storage Cheat Sheet, "scrypt"; NIST SP 800-63B-4, 3.1.1.2, asks for a salted and
 * costly hash. At most two are worked at a time and a few wait, so that no number of tries uses the memory up.
 */
const COST = 2 ** 17;
const BLOCK_SIZE = 8;
const HASH_BYTES = 32;
const AT_ONCE = 2;
const MOST_WAITING = 30;

export interface Passwords {
  hash: (password: string) => Promise<string>;
  /** Whether a password is the kept one. Without a kept one the same work is done and the answer is no. */
  verify: (password: string, kept: string | null) => Promise<boolean>;
}

/** The form in which a password is compared: the same letters typed in another way are the same password. */
export function comparedForm(password: string): string {
  return password.normalize('NFKC');
}

export function createPasswords({ cost = COST }: { cost?: number } = {}): Passwords {
  const inTurn = limited(AT_ONCE, MOST_WAITING);
  const derive = (password: string, salt: Buffer, n: number): Promise<Buffer> =>
    inTurn(() => scryptOf(comparedForm(password), salt, n));
  return {
    hash: async (password) => {
      const salt = randomBytes(16);
      const key = await derive(password, salt, cost);
      return ['scrypt', cost, salt.toString('base64url'), key.toString('base64url')].join('$');
    },
    verify: async (password, kept) => {
      const [, n = '', salt = '', key = ''] = (kept ?? '').split('$');
      if (kept === null) {
        await derive(password, randomBytes(16), cost);
        return false;
      }
      const expected = Buffer.from(key, 'base64url');
      return timingSafeEqual(await derive(password, Buffer.from(salt, 'base64url'), Number(n)), expected);
    },
  };
}

async function scryptOf(password: string, salt: Buffer, n: number): Promise<Buffer> {
  const options: ScryptOptions = { N: n, r: BLOCK_SIZE, p: 1, maxmem: 256 * n * BLOCK_SIZE };
  return new Promise((resolve, reject) => {
    scrypt(password, salt, HASH_BYTES, options, (error, key) => {
      if (error === null) resolve(key);
      else reject(error);
    });
  });
}

/** Runs work a few at a time; beyond the waiting room it is refused, to be tried again. */
function limited(atOnce: number, mostWaiting: number) {
  let running = 0;
  const waiting: (() => void)[] = [];
  return async <Result>(work: () => Promise<Result>): Promise<Result> => {
    if (running >= atOnce) {
      if (waiting.length >= mostWaiting)
        throw new Problem('too-many', 'Many people are signing in at this moment. Try again.', {
          retryAfterS: 5,
        });
      await new Promise<void>((resolve) => waiting.push(resolve));
    } else running += 1;
    try {
      return await work();
    } finally {
      const next = waiting.shift();
      // Whoever waits takes the place over, so that nobody can slip in between.
      if (next === undefined) running -= 1;
      else next();
    }
  };
}
