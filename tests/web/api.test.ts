import { describe, expect, it } from 'vitest';
import type { ClientResponse } from 'hono/client';
import { ApiProblem, problemOf, send } from '../../web/api.ts';
import { isWorthRetrying } from '../../web/lib/query-client.ts';

const answer = (body: unknown, status: number, headers: Record<string, string> = {}): Response =>
  new Response(status === 204 ? null : JSON.stringify(body), {
    status,
    headers: { 'content-type': 'application/problem+json', ...headers },
  });

const asAnswer = (response: Response): Promise<ClientResponse<{ id: string }, 200, 'json'>> =>
  Promise.resolve(response as unknown as ClientResponse<{ id: string }, 200, 'json'>);

describe('problemOf', () => {
  it('reads a problem document with its pointers and its reference', async () => {
    const problem = await problemOf(
      answer(
        {
          title: 'Not valid',
          detail: 'One field',
          requestId: 'abc',
          errors: [{ pointer: '/beadMg', detail: 'must be above 0' }, { pointer: 3 }],
        },
        422,
      ),
    );
    expect(problem).toEqual({
      title: 'Not valid',
      detail: 'One field',
      status: 422,
      requestId: 'abc',
      errors: [{ pointer: '/beadMg', detail: 'must be above 0' }],
    });
  });

  it.each([
    answer('text', 500, { 'x-request-id': 'r7' }),
    new Response('<html>', { status: 500, headers: { 'content-type': 'text/html', 'x-request-id': 'r7' } }),
    new Response('{', { status: 500, headers: { 'content-type': 'application/json', 'x-request-id': 'r7' } }),
  ])('makes a problem of an answer without one', async (response) => {
    expect(await problemOf(response)).toMatchObject({
      title: 'The server could not do this',
      status: 500,
      requestId: 'r7',
      errors: [],
    });
  });
});

describe('send', () => {
  it('gives the body of a success, and null where there is none', async () => {
    expect(await send(asAnswer(answer({ id: 'x' }, 200)))).toEqual({ id: 'x' });
    expect(await send(asAnswer(answer(null, 204)))).toBeNull();
  });

  it('throws a problem for a refusal and for no answer at all, and lets a cancelled request be cancelled', async () => {
    await expect(send(asAnswer(answer({ title: 'Gone', detail: '' }, 404)))).rejects.toMatchObject({
      problem: { status: 404, title: 'Gone' },
    });
    await expect(send(Promise.reject(new TypeError('Failed to fetch')))).rejects.toMatchObject({
      problem: { status: 0 },
    });
    await expect(send(Promise.reject(new DOMException('', 'AbortError')))).rejects.not.toBeInstanceOf(
      ApiProblem,
    );
  });
});

describe('isWorthRetrying', () => {
  const problem = (status: number): ApiProblem =>
    new ApiProblem({ title: '', detail: '', status, errors: [], requestId: '' });

  it('tries again where no answer came, and never after a refusal', () => {
    expect(isWorthRetrying(0, problem(0))).toBe(true);
    expect(isWorthRetrying(0, problem(503))).toBe(true);
    expect(isWorthRetrying(2, problem(0))).toBe(false);
    expect(isWorthRetrying(0, problem(404))).toBe(false);
    expect(isWorthRetrying(0, problem(422))).toBe(false);
    expect(isWorthRetrying(0, new Error('a mistake of ours'))).toBe(false);
  });
});
