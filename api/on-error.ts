import type { Context } from 'hono';
import { HTTPException } from 'hono/http-exception';
import { ChangedSince, NotFound, Refused } from '../db/queries/changed.ts';
import { logError, pathForLog } from './log.ts';
import { problemFromDatabaseError } from './problem-from-database.ts';
import { fieldLabel } from './problem-sentence.ts';
import { Problem } from './problem.ts';

/** The one place where an error becomes an answer. What is not meant for the caller goes to the log only. */
export function onError(error: Error, c: Context): Response {
  const requestId = (c.get('requestId') as string | undefined) ?? crypto.randomUUID();
  const problem = toProblem(error);
  if (problem.status >= 500)
    logError('request-failed', { requestId, method: c.req.method, path: pathForLog(c.req.path), error });
  return problemResponse(c, problem, requestId);
}

/** The answer to an address that nothing is at. */
export function onNotFound(c: Context): Response {
  const requestId = (c.get('requestId') as string | undefined) ?? crypto.randomUUID();
  return problemResponse(
    c,
    new Problem('not-found', `Nothing answers ${c.req.method} ${c.req.path}.`),
    requestId,
  );
}

/** A problem as RFC 9457 writes it, with members of its own kind. */
export function problemResponse(
  c: Context,
  problem: Problem,
  requestId: string,
  more: Record<string, unknown> = {},
): Response {
  const { type, title, status, detail, errors } = problem;
  const headers: Record<string, string> = {
    'content-type': 'application/problem+json',
    'x-request-id': requestId,
  };
  if (problem.retryAfterS !== undefined) headers['retry-after'] = String(problem.retryAfterS);
  return c.body(JSON.stringify({ type, title, status, detail, errors, requestId, ...more }), status, headers);
}

/** What the caller may be told of an error; all else is for the log. */
export function toProblem(error: Error): Problem {
  if (error instanceof Problem) return error;
  if (error instanceof NotFound) return new Problem('not-found', sentence(error.message));
  if (error instanceof ChangedSince)
    return new Problem('changed-since', `${sentence(error.message)} Nothing of yours was saved.`);
  if (error instanceof Refused) {
    const detail = sentence(`${fieldLabel(error.pointer)} ${error.message}`);
    return new Problem('validation', detail, { errors: [{ pointer: error.pointer, detail }] });
  }
  if (error instanceof HTTPException) return problemFromHttp(error);
  return (
    problemFromDatabaseError(error) ??
    new Problem('internal', 'The program could not finish this. Its log says more under the request id.')
  );
}

function problemFromHttp(error: HTTPException): Problem {
  if (error.status === 413) return new Problem('too-large', 'The request is larger than is taken here.');
  if (error.status === 415) return new Problem('media-type', 'The body must be sent as application/json.');
  if (error.status === 404) return new Problem('not-found', 'There is nothing here.');
  if (error.status < 500) return new Problem('malformed', 'The body must be well-formed JSON.');
  return new Problem(
    'internal',
    'The program could not finish this. Its log says more under the request id.',
  );
}

function sentence(text: string): string {
  const trimmed = text.trim();
  return `${trimmed.charAt(0).toUpperCase()}${trimmed.slice(1)}${/[.!?]$/.test(trimmed) ? '' : '.'}`;
}
