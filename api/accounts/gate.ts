import type { Context, MiddlewareHandler } from 'hono';
import { matchedRoutes } from 'hono/route';
import { z } from 'zod';
import { ownerCanSignIn } from '../../db/queries/accounts.ts';
import { sessionActor } from '../../db/queries/accounts-sessions.ts';
import { isOwnLot, isOwnStatement } from '../../db/queries/accounts-own-records.ts';
import { NotFound } from '../../db/queries/changed.ts';
import { Problem } from '../problem.ts';
import type { Deps } from '../routes/describe.ts';
import { ownerOfThisMachine, type Actor } from './actor.ts';
import { endpointKey, verdict } from './grants.ts';
import { sessionToken } from './session-cookie.ts';
import { tokenHash } from './tokens.ts';

/** Says who a request comes from, for everything behind it (`actorOf`). */
export function knowActor(deps: Deps): MiddlewareHandler {
  return async (c, next) => {
    const actor = await actorFor(c, deps);
    if (actor !== undefined) c.set('actor', actor);
    await next();
  };
}

async function actorFor(c: Context, { db, now, signInAlways = false }: Deps): Promise<Actor | undefined> {
  const token = sessionToken(c);
  if (token !== undefined) {
    const actor = await sessionActor(db, tokenHash(token), now());
    if (actor !== undefined) return actor;
  }
  // A request that a proxy passed on was not made at this machine, whatever name it goes by.
  const passedOn = ['forwarded', 'x-forwarded-for', 'x-real-ip', 'via'].some((name) => c.req.header(name));
  if (signInAlways || passedOn || (await ownerCanSignIn(db))) return undefined;
  return ownerOfThisMachine;
}

/**
 * Lets a request through to the endpoints that say so (`allow` in routes/describe.ts). An endpoint that says
 * nothing is the owner's alone. `endpoints` is asked for at the first request, when all of them are known.
 */
export function gate(
  { db }: Deps,
  endpoints: () => ReadonlyMap<string, readonly string[]>,
): MiddlewareHandler {
  let known: ReadonlyMap<string, readonly string[]> | undefined;
  return async (c, next) => {
    known ??= endpoints();
    c.set('grants', known);
    const served = matchedRoutes(c)
      .filter(({ method, path }) => method !== 'ALL' && path.startsWith('/api'))
      .map(({ method, path }) => ({ path, key: endpointKey(method, path) }));
    // Nothing is there, which everybody may know.
    if (served.length === 0) return next();
    const declared = served.find(({ key }) => known?.has(key) === true);
    const grants = declared === undefined ? [] : (known.get(declared.key) ?? []);
    const actor = c.get('actor') as Actor | undefined;
    if (actor === undefined) {
      if (grants.includes('anyone')) return next();
      throw new Problem('not-signed-in', 'Sign in to your account first.');
    }
    const may = verdict(grants, actor.role);
    if (may === 'no') throw new Problem('not-allowed', refusal(actor, c.req.method));
    if (may === 'own-lot' || may === 'own-statement') {
      const isOwn = may === 'own-lot' ? isOwnLot : isOwnStatement;
      const id = parameter(declared?.path ?? '', c.req.path, 'id');
      const theirs = actor.counterpartyId;
      // What belongs to others is not there for a customer: the answer does not tell that it exists.
      if (!z.uuid().safeParse(id).success || theirs === null || !(await isOwn(db, theirs, id)))
        throw new NotFound(may === 'own-lot' ? 'lot' : 'statement');
    }
    return next();
  };
}

const reads = ['GET', 'HEAD', 'OPTIONS'];

function refusal({ name, role }: Actor, method: string): string {
  const may: Record<Actor['role'], string> = {
    owner: 'may do everything',
    operator:
      'may see the books and enter lots, test smelts, batches and what belongs to the day’s work, and nothing else',
    accountant: 'may read and download, and change nothing',
    customer: 'may see its own lots and statements, and nothing else',
  };
  const what = reads.includes(method) ? 'This is not open to it' : 'Nothing was changed';
  return `The account ${name} (${role}) ${may[role]}. ${what}. Ask the owner of the mill.`;
}

/** The part of an address that stands where a route has `:name`. */
function parameter(routePath: string, path: string, name: string): string {
  const place = routePath.split('/').indexOf(`:${name}`);
  return place < 0 ? '' : decodeURIComponent(path.split('/')[place] ?? '');
}
