import { createHash } from 'node:crypto';
import type { Context } from 'hono';
import type { Kysely } from 'kysely';
import { Problem } from '../problem.ts';
import { keepAnswer, keptAnswer, takeKey } from '../../db/queries/idempotency.ts';
import type { Database } from '../../db/schema.ts';

/** Their answers hold links that open a door: those are shown once and kept nowhere. */
const SHOWN_ONCE = /^\/api\/(accounts|download-links)(\/|$)/;

/** Keys under which this process works just now: the embedded database would let the second wait instead. */
const underWay = new Set<string>();

/**
 * The key of a request (IETF draft "The Idempotency-Key HTTP Header Field", draft-ietf-httpapi-idempotency-key-header,
 * 2.1: a string of RFC 8941, that is in quotes; a bare word is taken as well).
 */
function keyOf(c: Context): string | null {
  const header = c.req.header('idempotency-key');
  if (header === undefined) return null;
  const [, quoted, bare] =
    /^\s*(?:"([\x20\x21\x23-\x5b\x5d-\x7e]{1,255})"|([\w.:-]{1,255}))\s*$/.exec(header) ?? [];
  const key = quoted ?? bare;
  if (key === undefined)
    throw new Problem(
      'malformed',
      'The header Idempotency-Key must hold one text of 1 to 255 plain characters in quotes.',
    );
  return key;
}

/** What makes two requests the same: method, address and body. */
async function fingerprintOf(c: Context): Promise<string> {
  const { pathname, search } = new URL(c.req.url);
  const hash = createHash('sha256').update(`${c.req.method} ${pathname}${search}\n`);
  return hash.update(new Uint8Array(await c.req.arrayBuffer())).digest('hex');
}

/**
 * Answers a request that was already answered under its key as it was then, and keeps the answer of a new one, in
 * the transaction of what it writes: either both are there or neither. A refused request wrote nothing, so its
 * answer is not kept.
 */
export async function answeredOnce(
  c: Context,
  trx: Kysely<Database>,
  account: string,
  work: () => Promise<void>,
): Promise<void> {
  const key = keyOf(c);
  if (key === null || SHOWN_ONCE.test(c.req.path)) return work();
  if (!(await takeKey(trx, account, key))) throw stillWorking();
  const requestSha256 = await fingerprintOf(c);
  const before = await keptAnswer(trx, account, key);
  if (before !== undefined) {
    if (before.requestSha256 !== requestSha256)
      throw new Problem(
        'validation',
        'This idempotency key was used for another request. A request with other content needs a key of its own.',
      );
    c.res = new Response(before.body === '' ? null : before.body, {
      status: before.status,
      headers: before.contentType === null ? {} : { 'content-type': before.contentType },
    });
    return;
  }
  await work();
  const { status, headers } = c.res;
  if (status < 200 || status > 299) return;
  await keepAnswer(trx, account, key, {
    requestSha256,
    status,
    contentType: headers.get('content-type'),
    body: await c.res.clone().text(),
  });
}

/** Whether a request was answered already under its key: then there is nothing to work out for it. */
export async function isAnswered(c: Context, db: Kysely<Database>, account: string): Promise<boolean> {
  const key = keyOf(c);
  return key !== null && (await keptAnswer(db, account, key)) !== undefined;
}

/** Refuses a second request under a key while this process still works on the first. */
export async function oneAtATime(c: Context, account: string, work: () => Promise<void>): Promise<void> {
  const key = keyOf(c);
  if (key === null) return work();
  const name = JSON.stringify([account, key]);
  if (underWay.has(name)) throw stillWorking();
  underWay.add(name);
  try {
    await work();
  } finally {
    underWay.delete(name);
  }
}

function stillWorking(): Problem {
  return new Problem(
    'conflict',
    'The same request is still being worked on. Ask again in a moment: it is answered once it is done.',
    { retryAfterS: 1 },
  );
}
