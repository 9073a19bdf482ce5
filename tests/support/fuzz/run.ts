import fc from 'fast-check';
import { createSite } from '../../../api/site.ts';
import { setSession } from './sessions.ts';
import { account, appWithAccounts } from '../accounts.ts';
import { builtPages } from '../built-pages.ts';
import { judged } from './judge.ts';
import { lookAround, type Ask } from './known.ts';
import { operationsOf, type ApiDocument, type Operation } from './operations.ts';
import type { Making } from './making.ts';
import {
  nameOf,
  plainRequestFor,
  requestFor,
  requestOf,
  spoiltOf,
  type FuzzRequest,
  type Known,
} from './requests.ts';
import { soundRequests, type Sound } from './sound-requests.ts';
import { briefState, wholeState } from './state.ts';
import type { Kysely } from 'kysely';
import type { Database } from '../../../db/schema.ts';

const SITE = 'http://127.0.0.1:4270';
/** No request of one person alone may take so long. */
const HANG_MS = 60_000;
/** After so many rounds of all operations the ids are looked up anew. */
const ROUNDS_OF_ONE_LOOK = 4;
/** In one of so many rounds each operation is also asked for what it accepts, and for that spoilt. */
const ROUNDS_OF_SOUND = 4;
/** Where that needs nothing but an id that is there, so many are tried. */
const PLAIN_TRIES = 6;
/** Of so many refused requests one is followed by a look at every table. */
const WHOLE_EVERY = 150;

export interface FuzzReport {
  requests: number;
  refused: number;
  accepted: number;
  byStatus: Record<string, number>;
  slowestMs: number;
  slowest: string;
  /** Operations of which no request was sound enough, with what the last sound one was refused for. */
  neverAccepted: string[];
  /** Each kind of fault once, with how often and an example. */
  faults: { what: string; times: number; example: string }[];
}

function shown({ method, address, headers, body, as }: FuzzRequest): string {
  const sent = body === null ? '' : typeof body === 'string' ? body : `${body.length} bytes`;
  return `${as}: ${method} ${address.slice(0, 300)} ${JSON.stringify(headers).slice(0, 200)} ${sent.slice(0, 1500)}`;
}

/** Sends `count` requests from a seed, spread over every operation, to a whole site over one database. */
export async function fuzz({
  db,
  count,
  seed,
  now = '2026-10-14T12:00:00Z',
}: {
  db: Kysely<Database>;
  count: number;
  seed: number;
  now?: string;
}): Promise<FuzzReport> {
  const { app, now: clock } = appWithAccounts(db, now);
  const site = createSite({ app, webRoot: builtPages(), now: () => performance.now() });
  const ownerId = await account(db, { name: 'owner', role: 'owner' });
  let cookie = await setSession(db, ownerId, clock());

  const send = async (
    method: string,
    address: string,
    init: { headers?: Record<string, string>; body?: string } = {},
  ) =>
    site.request(`${SITE}${address}`, {
      ...init,
      method,
      headers: { host: '127.0.0.1:4270', ...init.headers },
    });
  const askAsOwner: Ask = async (method, path) => send(method, path, { headers: { cookie } });
  const document = (await (await askAsOwner('GET', '/api/openapi.json')).json()) as ApiDocument;
  const operations = operationsOf(document);

  const report: FuzzReport = {
    requests: 0,
    refused: 0,
    accepted: 0,
    byStatus: {},
    slowestMs: 0,
    slowest: '',
    neverAccepted: [],
    faults: [],
  };
  const faultOf = new Map<string, FuzzReport['faults'][number]>();
  const found = (request: FuzzRequest, fault: string): void => {
    const what = `${request.operation} ${fault.replaceAll(/"requestId":"[^"]*"/g, '').slice(0, 400)}`;
    const key = what
      .replaceAll(/[0-9a-f]{8}-[0-9a-f-]{27}/g, 'ID')
      .replaceAll(/\d+/g, '0')
      .slice(0, 160);
    const before = faultOf.get(key);
    if (before === undefined) faultOf.set(key, { what, times: 1, example: shown(request) });
    else before.times += 1;
  };

  const accepted = new Set<string>();
  const lastRefusal = new Map<string, string>();
  let known: Known | undefined;
  let brief = await briefState(db);
  let numbers = 0;
  const making: Making = {
    now: clock,
    number: () => (numbers += 1),
    ask: async (method, path, body, headers = {}) => {
      const answer = await send(method, path, {
        headers: {
          cookie,
          ...(body === undefined ? {} : { 'content-type': 'application/json' }),
          ...headers,
        },
        ...(body === undefined ? {} : { body: JSON.stringify(body) }),
      });
      const text = await answer.text();
      if (!answer.ok) throw new Error(`${method} ${path} was refused: ${text.slice(0, 400)}`);
      return text === '' ? null : (JSON.parse(text) as unknown);
    },
    visitor: async () => {
      const accountId = await account(db, { name: `visitor ${(numbers += 1)}`, role: 'owner' });
      const come = () => setSession(db, accountId, clock());
      const own = await come();
      return { cookie: own, accountId, again: async () => void (await come()) };
    },
  };
  /** A request that the operation accepts, made anew; null where nothing is known that would be. */
  const soundFor = async (operation: Operation): Promise<Sound | null> => {
    const recipe = soundRequests[nameOf(operation)];
    if (recipe === undefined) return null;
    try {
      return await recipe(making);
    } catch (error) {
      // Earlier requests may have left nothing that it can be made from, such as a closed month.
      lastRefusal.set(nameOf(operation), String(error));
      return null;
    } finally {
      brief = await briefState(db);
    }
  };
  const sendOne = async (request: FuzzRequest): Promise<void> => {
    report.requests += 1;
    const isWhole = report.requests % WHOLE_EVERY === 0;
    const whole = isWhole ? await wholeState(db) : '';
    const begun = performance.now();
    const answer = await answered(request);
    const tookMs = performance.now() - begun;
    if (tookMs > report.slowestMs)
      Object.assign(report, { slowestMs: tookMs, slowest: shown(request).slice(0, 300) });
    report.byStatus[answer.status] = (report.byStatus[answer.status] ?? 0) + 1;
    report[answer.isRefused ? 'refused' : 'accepted'] += 1;
    if (!answer.isRefused && request.kind === 'sound') accepted.add(request.operation);
    else if (answer.isRefused && request.kind === 'sound' && request.as === 'owner')
      lastRefusal.set(request.operation, answer.said);
    for (const fault of answer.faults) found(request, fault);
    const after = await briefState(db);
    if (answer.isRefused && after !== brief)
      found(request, `was refused with ${answer.status}, but changed the books`);
    if (answer.isRefused && isWhole && (await wholeState(db)) !== whole)
      found(request, `was refused with ${answer.status}, but changed a table`);
    brief = after;
    if (!answer.isRefused && /session|account/.test(request.operation)) {
      // Whoever signs out, or closes the account, is let in again.
      cookie = await setSession(db, ownerId, clock());
      brief = await briefState(db);
    }
  };
  for (let round = 0; report.requests < count; round += 1) {
    if (round % ROUNDS_OF_ONE_LOOK === 0) known = await lookAround(db, operations, askAsOwner, known);
    const now = known as Known;
    if (round % ROUNDS_OF_SOUND === 0)
      for (const [at, operation] of operations.entries()) {
        if (report.requests >= count) break;
        const drawn = { numRuns: 1, seed: (seed + round) * 1013 + at };
        const sound = await soundFor(operation);
        if (sound !== null) await sendOne(requestOf(operation, sound));
        else if (!accepted.has(nameOf(operation)))
          for (const request of fc.sample(plainRequestFor(operation, now), {
            ...drawn,
            numRuns: PLAIN_TRIES,
          }))
            if (!accepted.has(nameOf(operation))) await sendOne(request);
        // What differs from what is accepted in a place or two gets past the first checks.
        const again = await soundFor(operation);
        const spoiltOne = again === null ? null : spoiltOf(operation, again);
        if (spoiltOne !== null) for (const request of fc.sample(spoiltOne, drawn)) await sendOne(request);
      }
    for (const request of requestsOfRound(operations, now, seed + round)) {
      if (report.requests >= count) break;
      await sendOne(request);
    }
  }
  report.neverAccepted = operations
    .map(nameOf)
    .filter((name) => !accepted.has(name))
    .map((name) => `${name}: ${lastRefusal.get(name) ?? ''}`);
  report.faults = [...faultOf.values()].toSorted((a, b) => b.times - a.times);
  return report;

  async function answered(request: FuzzRequest) {
    const { method, address, headers, body, as } = request;
    const own: Record<string, string> = as === 'owner' ? { cookie } : {};
    let init: Request;
    try {
      init = new Request(`${SITE}${address}`, {
        method,
        headers: { host: '127.0.0.1:4270', ...own, ...headers },
        ...(body === null || method === 'GET' || method === 'HEAD' ? {} : { body: body as BodyInit }),
      });
    } catch {
      // What the platform itself does not send reaches no server.
      return { isRefused: true, status: 0, said: '', faults: [] };
    }
    const answering = async () => judged(request, await site.request(init));
    let timer: NodeJS.Timeout | undefined;
    const hanging = new Promise<Awaited<ReturnType<typeof judged>>>((resolve) => {
      timer = setTimeout(
        () => resolve({ isRefused: true, status: 0, said: '', faults: ['gave no answer in time'] }),
        HANG_MS,
      );
    });
    try {
      return await Promise.race([answering(), hanging]);
    } catch (error) {
      return { isRefused: true, status: 0, said: '', faults: [`threw ${String(error)}`] };
    } finally {
      clearTimeout(timer);
    }
  }
}

/** One request of every operation, in the same order for the same seed. */
function requestsOfRound(operations: readonly Operation[], known: Known, seed: number): FuzzRequest[] {
  return operations.flatMap((operation, at) =>
    fc.sample(requestFor(operation, known), { numRuns: 1, seed: seed * 1009 + at }),
  );
}
