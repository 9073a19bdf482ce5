import { AsyncLocalStorage } from 'node:async_hooks';
import { sql, type Kysely } from 'kysely';
import type { Database } from '../schema.ts';

/** In whose name the database is written to, as its audit records it. */
export interface Acting {
  name: string;
  accountId: string | null;
  requestId: string | null;
}

interface Scope {
  acting: Acting;
  /** The transaction of the request, and the database that it is one of; null while none is open. */
  open: { of: Kysely<Database>; trx: Kysely<Database> } | null;
}

/** Of writes outside a request, such as a start or a migration. */
export const THE_PROGRAM: Acting = { name: 'program', accountId: null, requestId: null };

const scope = new AsyncLocalStorage<Scope>();

/** Does work in somebody's name. */
export function actingAs<Result>(acting: Acting, work: () => Result): Result {
  return scope.run({ acting, open: null }, work);
}

/** Who acts, where somebody was named. */
export function whoActs(): Acting | undefined {
  return scope.getStore()?.acting;
}

/** Tells the database in whose name the rest of a transaction is written. */
export async function nameActing(
  trx: Kysely<Database>,
  { name, accountId, requestId }: Acting = whoActs() ?? THE_PROGRAM,
): Promise<void> {
  const text = JSON.stringify({ name, accountId, requestId });
  await sql`select set_config('poursheet.actor', ${text}, true)`.execute(trx);
}

/** Does work in one transaction, in somebody's name: all that goes through `requestDatabase` meanwhile is part of it. */
export async function inRequestTransaction<Result>(
  db: Kysely<Database>,
  acting: Acting,
  work: (trx: Kysely<Database>) => Promise<Result>,
): Promise<Result> {
  const of = behind.get(db) ?? db;
  const within = async (trx: Kysely<Database>): Promise<Result> => {
    await nameActing(trx, acting);
    return scope.run({ acting, open: { of, trx } }, () => work(trx));
  };
  return of.isTransaction ? within(of) : of.transaction().execute(within);
}

/** The databases behind those that requests see. */
const behind = new WeakMap<Kysely<Database>, Kysely<Database>>();

/**
 * A database as a request sees it: within the request's transaction while one is open, so that whatever a
 * handler writes is kept or undone together with the answer to it.
 */
export function requestDatabase(db: Kysely<Database>): Kysely<Database> {
  const current = (): Kysely<Database> => {
    const open = scope.getStore()?.open;
    return open?.of === db ? open.trx : db;
  };
  const seen = new Proxy(db, {
    get: (_db, name) => {
      const target = current();
      const member: unknown = Reflect.get(target, name, target);
      return typeof member === 'function' ? (member.bind(target) as unknown) : member;
    },
  });
  behind.set(seen, db);
  return seen;
}
