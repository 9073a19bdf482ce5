import type { Context, MiddlewareHandler } from 'hono';
import type { Kysely } from 'kysely';
import { answeredOnce, isAnswered, oneAtATime } from './idempotency.ts';
import { requireMatch, tagRecord } from './if-match.ts';
import { actorIfAny } from '../accounts/actor.ts';
import { problemResponse, toProblem } from '../on-error.ts';
import { requestIdOf, type Deps } from '../routes/describe.ts';
import { actingAs, inRequestTransaction, THE_PROGRAM, whoActs, type Acting } from '../../db/audit/acting.ts';
import { changesSince } from '../../db/queries/audit.ts';
import { ChangedSince } from '../../db/queries/changed.ts';
import type { Database } from '../../db/schema.ts';

const reads = ['GET', 'HEAD', 'OPTIONS'];

/** Answers of a refused sign-in: what they count stays counted. */
const keptThoughRefused = [401, 429];

/** New records that are worked out for long before they are written: nobody waits for a transaction meanwhile. */
const WORKED_FIRST = new Set(['/api/decisions', '/api/batches']);

/**
 * Works something out without a transaction, then writes it in one: what it writes, the audit of it and the answer
 * kept under its idempotency key are there together or not at all.
 */
export async function asOneWrite<Worked, Answer extends Response>(
  c: Context,
  db: Kysely<Database>,
  { work, write }: { work: () => Promise<Worked>; write: (worked: Worked) => Promise<Answer> },
): Promise<Answer> {
  const acting = whoActs() ?? THE_PROGRAM;
  const account = acting.accountId ?? '';
  await oneAtATime(c, account, async () => {
    const worked = (await isAnswered(c, db, account)) ? null : { out: await work() };
    await inRequestTransaction(db, acting, (trx) =>
      answeredOnce(c, trx, account, async () => {
        c.res = await write(worked === null ? await work() : worked.out);
      }),
    );
  });
  // An answer that was kept under the key of a request is one of the same operation.
  return c.res as Answer;
}

/** Undoes what a refused request wrote. */
class Undo extends Error {}

/**
 * Stands around every request. One that changes something is one transaction, in the name of whoever asks: what it
 * writes, what the audit says of it and the answer kept under its idempotency key are there together or not at all.
 * Imports answer while they still work and open their transaction themselves; what is long worked out before it is
 * written opens its own when it is ready (`asOneWrite`).
 */
export function writes({ db }: Deps): MiddlewareHandler {
  return async (c, next) => {
    if (reads.includes(c.req.method)) {
      await next();
      await tagRecord(c);
      return;
    }
    const requestId = requestIdOf(c);
    c.set('requestId', requestId);
    const acting = actingFor(c, requestId);
    // Nor is a sign-in: its costly hash must not hold a transaction open, and a wrong try stays counted.
    // A backup is a transaction of its own, of one moment, and changes nothing.
    if (/^\/api\/(imports|session|backups)(\/|$)/.test(c.req.path)) return actingAs(acting, next);
    if (c.req.method === 'POST' && WORKED_FIRST.has(c.req.path)) return actingAs(acting, next);
    const account = acting.accountId ?? '';
    try {
      await oneAtATime(c, account, () =>
        inRequestTransaction(db, acting, async (trx) => {
          await answeredOnce(c, trx, account, async () => {
            await requireMatch(c, trx);
            await next();
          });
          if (c.error !== undefined && !keptThoughRefused.includes(c.res.status)) throw new Undo();
        }),
      );
    } catch (error) {
      const refused = error instanceof Undo ? c.error : error;
      if (refused instanceof ChangedSince) await tellWhatChanged(c, refused);
      else if (!(error instanceof Undo)) throw error;
    }

    async function tellWhatChanged(context: Context, refused: ChangedSince): Promise<void> {
      const changes = refused.seen === null ? [] : await changesSince(db, refused.seen);
      context.res = problemResponse(context, toProblem(refused), requestId, { changes });
    }
  };
}

/** Who is known from the request; on the owner's own machine there may be nobody to ask. */
function actingFor(c: Context, requestId: string): Acting {
  const outer = whoActs();
  if (outer !== undefined) return { ...outer, requestId };
  const actor = actorIfAny(c);
  return { name: actor?.name ?? 'nobody signed in', accountId: actor?.accountId ?? null, requestId };
}
