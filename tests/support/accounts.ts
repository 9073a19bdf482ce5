import type { Kysely } from 'kysely';
import { createApp } from '../../api/app.ts';
import { createPasswords, type Passwords } from '../../api/accounts/passwords.ts';
import { insertAccount, setPassword } from '../../db/queries/accounts.ts';
import type { Role } from '../../api/schemas/account.ts';
import type { Database } from '../../db/schema.ts';

/** Invented for the tests: fits the rules and is on no list. */
export const GOOD_PASSWORD = 'tin heron lodge';

/** As the program keeps passwords, but quick; counts how often it was set to work. */
export function quickPasswords(): Passwords & { worked: () => number } {
  const passwords = createPasswords({ cost: 1024 });
  let count = 0;
  return {
    worked: () => count,
    hash: passwords.hash,
    verify: (password, kept) => {
      count += 1;
      return passwords.verify(password, kept);
    },
  };
}

export interface AppUnderTest {
  request: (path: string, init?: RequestInit) => Response | Promise<Response>;
}

export interface Visitor {
  send: (method: string, path: string, body?: unknown, headers?: Record<string, string>) => Promise<Response>;
  /** What is in the cookie jar. */
  cookie: () => string;
}

/** Somebody with a cookie jar of their own. */
export function visitor(app: AppUnderTest, jar = ''): Visitor {
  let cookie = jar;
  return {
    cookie: () => cookie,
    send: async (method, path, body, headers = {}) => {
      const response = await app.request(`/api${path}`, {
        method,
        headers: {
          ...(body === undefined ? {} : { 'content-type': 'application/json' }),
          ...(cookie === '' ? {} : { cookie }),
          ...headers,
        },
        ...(body === undefined ? {} : { body: JSON.stringify(body) }),
      });
      const set = response.headers.get('set-cookie');
      if (set !== null) cookie = /Max-Age=0/i.test(set) ? '' : (set.split(';')[0] ?? '');
      return response;
    },
  };
}

/** An app with a clock that tests can turn. */
export function appWithAccounts(db: Kysely<Database>, start = '2026-09-01T12:00:00Z') {
  let now = new Date(start);
  const passwords = quickPasswords();
  const make = (signInAlways = false) => createApp({ db, now: () => now, passwords, signInAlways });
  return {
    app: make(),
    make,
    passwords,
    now: () => now,
    pass: (seconds: number) => {
      now = new Date(now.getTime() + seconds * 1000);
    },
  };
}

/** An account with a password, past the pages that make one. */
export async function account(
  db: Kysely<Database>,
  fields: { name: string; role: Role; counterpartyId?: string; password?: string },
): Promise<string> {
  const { name, role, counterpartyId = null, password = GOOD_PASSWORD } = fields;
  const now = new Date('2026-08-01T00:00:00Z');
  const id = await insertAccount(db, { name, role, counterpartyId }, now);
  const passwordHash = await createPasswords({ cost: 1024 }).hash(password);
  await setPassword(db, id, { passwordHash, now, keepSessionId: null });
  return id;
}

/** Somebody who has signed in. */
export async function signedIn(app: AppUnderTest, name: string, password = GOOD_PASSWORD) {
  const one = visitor(app);
  const response = await one.send('POST', '/session', { name, password });
  if (response.status !== 200) throw new Error(`${name} was not let in: ${await response.text()}`);
  return one;
}
