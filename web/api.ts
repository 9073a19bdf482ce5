import { hc } from 'hono/client';
import type { ClientResponse } from 'hono/client';
import type { SuccessStatusCode } from 'hono/utils/http-status';
import type { App } from '../api/app.ts';
import { pageStore } from './lib/page-store.ts';
import { keyedSending, wasAnswered } from './lib/sending-keys.ts';
import type { Sending } from './lib/sending-keys.ts';

/** Thrown where a request that changes the books got no answer: it may or may not have arrived. */
class NotAnswered extends Error {
  readonly sending: Sending;
  constructor(sending: Sending, cause: unknown) {
    super('no answer', { cause });
    this.sending = sending;
  }
}

/** Whether the server has done with a request; if not, it is to be sent again under the same key. */
export function isFinal(answer: Pick<Response, 'status' | 'headers'>): boolean {
  return answer.status < 500 && !answer.headers.has('retry-after');
}

/** Sends a request that changes the books under its idempotency key. */
export function sendUnderKey({ method, url, body, key }: Sending, init: RequestInit = {}): Promise<Response> {
  const headers = new Headers(init.headers);
  headers.set('idempotency-key', `"${key}"`);
  if (!headers.has('content-type')) headers.set('content-type', 'application/json');
  return fetch(url, { ...init, method, body, headers });
}

/** Gives every POST and PUT a key, which it keeps until it is answered. */
async function fetchOnce(input: RequestInfo | URL, init?: RequestInit): Promise<Response> {
  const { method = 'GET', body } = init ?? {};
  if ((method !== 'POST' && method !== 'PUT') || typeof body !== 'string' || typeof input !== 'string')
    return fetch(input, init);
  const sending = keyedSending({ method, url: input, body }, pageStore(), Date.now());
  let answer: Response;
  try {
    answer = await sendUnderKey(sending, init);
  } catch (cause) {
    if (cause instanceof DOMException && cause.name === 'AbortError') throw cause;
    throw new NotAnswered(sending, cause);
  }
  if (isFinal(answer)) wasAnswered(sending, pageStore(), Date.now());
  return answer;
}

/** The API, typed from the server's routes. Use with `send`: `send(api.lots.$get({ query: {} }))`. */
export const api = hc<App>('/', { fetch: fetchOnce }).api;

/** For a removal: the version in which the record was seen; it stays where somebody changed it meanwhile. */
export const ifMatch = (version: number) => ({ headers: { 'if-match': `"${version}"` } });

/** What the server says when it refuses (RFC 9457), with pointers to the fields that it refuses. */
export interface Problem {
  /** Which problem it is, such as `/problems/code-needed`, where the server says. */
  type?: string;
  title: string;
  detail: string;
  /** HTTP status; 0 where no answer came. */
  status: number;
  errors: { pointer: string; detail: string }[];
  /** To find the matter in the server's log; '' where there is none. */
  requestId: string;
  /** Where the record was changed meanwhile: by whom, when, and from what to what. */
  changes?: ChangedMeanwhile[];
}

export interface ChangedMeanwhile {
  at: string;
  actor: string;
  fields: { pointer: string; label: string; from: string | null; to: string | null }[];
}

export class ApiProblem extends Error {
  readonly problem: Problem;
  /** The request that got no answer, to be sent again; null where one came. */
  unanswered: Sending | null = null;

  constructor(problem: Problem, options?: ErrorOptions) {
    super(problem.detail === '' ? problem.title : problem.detail, options);
    this.name = 'ApiProblem';
    this.problem = problem;
  }
}

const textOr = (value: unknown, otherwise: string): string => (typeof value === 'string' ? value : otherwise);

function fieldErrors(errors: unknown): Problem['errors'] {
  if (!Array.isArray(errors)) return [];
  return (errors as unknown[]).flatMap((error) => {
    if (typeof error !== 'object' || error === null) return [];
    const { pointer, detail } = error as Record<string, unknown>;
    return typeof detail === 'string' ? [{ pointer: textOr(pointer, ''), detail }] : [];
  });
}

/** Reads a refusal; an answer that is no problem+json still becomes a problem that can be shown. */
export async function problemOf(response: Pick<Response, 'status' | 'headers' | 'json'>): Promise<Problem> {
  const headerId = response.headers.get('x-request-id') ?? '';
  const bare: Problem = {
    title: 'The server could not do this',
    detail: `It answered with status ${response.status} and no explanation.`,
    status: response.status,
    errors: [],
    requestId: headerId,
  };
  if (!(response.headers.get('content-type') ?? '').includes('json')) return bare;
  let body: unknown;
  try {
    body = await response.json();
  } catch {
    return bare;
  }
  if (typeof body !== 'object' || body === null) return bare;
  const { type, title, detail, errors, requestId, changes } = body as Record<string, unknown>;
  return {
    ...(typeof type === 'string' ? { type } : {}),
    title: textOr(title, bare.title),
    detail: textOr(detail, ''),
    status: response.status,
    errors: fieldErrors(errors),
    requestId: textOr(requestId, headerId),
    ...(Array.isArray(changes) ? { changes: changes as ChangedMeanwhile[] } : {}),
  };
}

/** The problem that stands for a request to which no answer came. */
export function noAnswer(cause: unknown): ApiProblem {
  const problem = new ApiProblem(
    {
      title: 'No answer from the mill’s computer',
      detail: 'Check that Poursheet is running there and that this device is on the same network.',
      status: 0,
      errors: [],
      requestId: '',
    },
    { cause },
  );
  if (cause instanceof NotAnswered) problem.unanswered = cause.sending;
  return problem;
}

/** The body of an answer's success: of the routes' answers, those whose status says success and nothing else. */
type Body<Answer> =
  Answer extends ClientResponse<infer Data, infer Status, infer Format>
    ? [Status] extends [SuccessStatusCode]
      ? Format extends 'json'
        ? Data
        : null
      : never
    : never;

/** Told when the server asks to sign in, because a session has ended. */
export const signedOut = new EventTarget();

/** Awaits an answer and gives its body (null where there is none); throws an ApiProblem for anything but success. */
export async function send<Answer extends ClientResponse<unknown, number, 'json' | 'body'>>(
  request: Promise<Answer>,
): Promise<Body<Answer>> {
  let response: Answer;
  try {
    response = await request;
  } catch (cause) {
    if (cause instanceof DOMException && cause.name === 'AbortError') throw cause;
    throw noAnswer(cause);
  }
  if (response.status < 200 || response.status > 299) {
    const problem = await problemOf(response);
    if (problem.type === '/problems/not-signed-in') signedOut.dispatchEvent(new Event('signed-out'));
    throw new ApiProblem(problem);
  }
  return (response.status === 204 ? null : await response.json()) as Body<Answer>;
}

/** One page of a list. */
export interface ListPage<Row> {
  rows: Row[];
  /** To ask on with, as `after`; null on the last page. */
  next: string | null;
}

/** Where the next page of a list begins, by the answer's header Link (RFC 8288). */
export function nextIn(link: string | null): string | null {
  const [, address] = /<([^>]*)>;\s*rel="next"/.exec(link ?? '') ?? [];
  return address === undefined ? null : new URL(address, 'http://list').searchParams.get('after');
}

/** Awaits one page of a list; throws as `send` does. */
export async function sendPage<Answer extends ClientResponse<unknown, number, 'json'>>(
  request: Promise<Answer>,
): Promise<{ rows: Body<Answer>; next: string | null }> {
  let link: string | null = null;
  const rows = await send(
    request.then((answer) => {
      link = answer.headers.get('link');
      return answer;
    }),
  );
  return { rows, next: nextIn(link) };
}

/** Awaits a list page by page to its end: for lists that are short by their nature, such as the trials of one lot. */
export async function sendAll<Row>(
  ask: (after: { after?: string }) => Promise<ListPage<Row>>,
): Promise<Row[]> {
  const rows: Row[] = [];
  let next: string | null = null;
  do {
    const page: ListPage<Row> = await ask(next === null ? {} : { after: next });
    rows.push(...page.rows);
    next = page.next;
  } while (next !== null);
  return rows;
}
