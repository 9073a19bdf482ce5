import { OpenAPIHono, createRoute, z } from '@hono/zod-openapi';
import { Hono } from 'hono';
import { sql } from 'kysely';
import { beforeAll, describe, expect, it, vi } from 'vitest';
import { onError, onNotFound } from '../../api/on-error.ts';
import { problemFromZod } from '../../api/problem-from-zod.ts';
import type { Problem } from '../../api/problem.ts';
import { ChangedSince, NotFound, Refused } from '../../db/queries/changed.ts';
import type { OpenDatabase } from '../../db/open.ts';
import { describeOnEveryEngine } from '../support/engines.ts';

const problemOf = (schema: z.ZodType, input: unknown): Problem => {
  const parsed = schema.safeParse(input);
  if (parsed.success) throw new Error('the schema found nothing wrong');
  return problemFromZod(parsed.error, input);
};
const faults = (schema: z.ZodType, input: unknown): string[] =>
  problemOf(schema, input).errors.map(({ pointer, detail }) => `${pointer} ${detail}`);

describe('a refused request', () => {
  const weighing = z.strictObject({
    beadMg: z.number().positive(),
    unit: z.enum(['mg', 'g']),
    takenOn: z.iso.date(),
    trials: z.array(z.object({ leadG: z.number('must be a number of grams') })).min(2),
  });

  it('names each field, the value given and what would be right', () => {
    const input = {
      beadMg: -0.5,
      unit: 'kg',
      takenOn: '1 March',
      trials: [{ leadG: '30' }],
      colour: 'yellow',
    };
    expect(faults(weighing, input)).toEqual([
      '/beadMg Bead is -0.5: must be above 0.',
      '/unit Unit is "kg": must be mg or g.',
      '/takenOn Taken on is "1 March": must be a date as YYYY-MM-DD.',
      '/trials/0/leadG Trials 1, lead is "30": must be a number of grams.',
      '/trials Trials has one entry: must have at least 2 entries.',
      '/colour Colour is "yellow": is not a field of this request.',
    ]);
  });

  it('says what is missing', () => {
    expect(faults(weighing, {})).toEqual([
      '/beadMg Bead is missing: must be a number.',
      '/unit Unit is missing: must be mg or g.',
      '/takenOn Taken on is missing: must be text.',
      '/trials Trials is missing: must be a list.',
    ]);
    expect(faults(z.object({}), 'x')).toEqual([' The request is "x": must be an object.']);
  });

  it('speaks of the form of a union that comes nearest', () => {
    const price = z.union([z.object({ usd: z.number() }), z.object({ low: z.number(), high: z.number() })]);
    expect(faults(price, { low: '1', high: 2, usd: '3' })).toEqual(['/usd Usd is "3": must be a number.']);
    const kind = z.discriminatedUnion('kind', [
      z.object({ kind: z.literal('roast') }),
      z.object({ kind: z.literal('smelt') }),
    ]);
    expect(faults(kind, { kind: 'boil' })).toEqual(['/kind Kind is "boil": must be roast or smelt.']);
  });

  it('escapes pointers and cuts long values', () => {
    expect(faults(z.record(z.string(), z.number()), { 'a/b~c': 'x'.repeat(200) })[0]).toMatch(
      /^\/a~1b~0c A\/b~c is "x{56}…": must be a number\.$/,
    );
  });

  it('becomes problem+json, also when the JSON is broken', async () => {
    const app = new OpenAPIHono({
      defaultHook: (result) => {
        if (!result.success) throw problemFromZod(result.error, (result as { data?: unknown }).data);
      },
    });
    const route = createRoute({
      method: 'post',
      path: '/',
      request: { body: { required: true, content: { 'application/json': { schema: weighing } } } },
      responses: { 204: { description: '' } },
    });
    app.openapi(route, (c) => c.body(null, 204));
    app.onError(onError);
    const post = (body: string) =>
      app.request('/', { method: 'POST', body, headers: { 'content-type': 'application/json' } });

    const refused = await post('{"beadMg":0}');
    expect(refused.status).toBe(422);
    expect(refused.headers.get('content-type')).toBe('application/problem+json');
    expect(await refused.json()).toMatchObject({ type: '/problems/validation', status: 422 });
    const broken = await post('{"beadMg":');
    expect(broken.status).toBe(400);
    expect(await broken.json()).toMatchObject({ type: '/problems/malformed' });
  });
});

describe('an error in a handler', () => {
  const answerTo = async (error: Error): Promise<{ status: number; headers: Headers; body: string }> => {
    const app = new Hono().get('/', () => {
      throw error;
    });
    app.onError(onError);
    app.notFound(onNotFound);
    const response = await app.request('/');
    return { status: response.status, headers: response.headers, body: await response.text() };
  };

  it('tells the caller nothing of the inside, and the log everything under the request id', async () => {
    const written = vi.spyOn(process.stderr, 'write').mockReturnValue(true);
    const { status, headers, body } = await answerTo(new TypeError('cannot read secretColumn of undefined'));
    expect(status).toBe(500);
    expect(body).not.toContain('secretColumn');
    const line = JSON.parse(String(written.mock.calls[0]?.[0])) as { requestId: string };
    expect(line).toMatchObject({
      level: 'error',
      error: { message: 'cannot read secretColumn of undefined' },
    });
    expect(headers.get('x-request-id')).toBe(line.requestId);
    expect(JSON.parse(body)).toMatchObject({ type: '/problems/internal', requestId: line.requestId });
  });

  it('is told when it is about the records', async () => {
    expect(await answerTo(new NotFound('lot'))).toMatchObject({ status: 404 });
    const changed = await answerTo(new ChangedSince('The lot'));
    expect(changed.status).toBe(412);
    expect(changed.body).toContain('The lot was changed by somebody else since it was opened.');
    const refused = await answerTo(new Refused('/charges/0/leadG', 'must be below the flux'));
    expect(JSON.parse(refused.body)).toMatchObject({
      status: 422,
      errors: [{ pointer: '/charges/0/leadG', detail: 'Charges 1, lead must be below the flux.' }],
    });
  });
});

describeOnEveryEngine('what the database refuses', (open) => {
  let opened: OpenDatabase;
  const answerTo = async (
    statement: string,
  ): Promise<{ status: number; retryAfter: string | null; body: object }> => {
    const app = new Hono().get('/', async (c) => {
      await sql.raw(statement).execute(opened.db);
      return c.text('done');
    });
    app.onError(onError);
    const response = await app.request('/');
    return {
      status: response.status,
      retryAfter: response.headers.get('retry-after'),
      body: (await response.json()) as object,
    };
  };
  beforeAll(async () => {
    opened = await open({ migrated: false });
    await sql`create table lot (code text primary key, wet_mass_kg numeric not null check (wet_mass_kg > 0))`.execute(
      opened.db,
    );
    await sql`create table sample (lot_code text references lot, tray int4 check (tray < 9))`.execute(
      opened.db,
    );
    await sql`insert into lot values ('L-7', 10)`.execute(opened.db);
    await sql`insert into sample values ('L-7', 1)`.execute(opened.db);
  });

  it.each([
    ["insert into lot values ('L-7', 1)", 409, '/code', 'Code "L-7" is already taken by another record.'],
    ["insert into lot values ('L-8', -1)", 422, '/wetMassKg', 'Wet mass is outside what can be recorded.'],
    ["insert into lot values ('L-8', null)", 422, '/wetMassKg', 'Wet mass is missing.'],
    [
      "insert into sample values ('L-9', 1)",
      422,
      '/lotCode',
      'Lot code "L-9" names a record that is not there.',
    ],
  ])('%s', async (statement, status, pointer, detail) => {
    const answer = await answerTo(statement);
    expect(answer).toMatchObject({ status, body: { detail, errors: [{ pointer, detail }] } });
  });

  it('is a conflict when other records hang on the one to remove', async () => {
    expect(await answerTo("delete from lot where code = 'L-7'")).toMatchObject({ status: 409 });
  });

  it('is a fault of the input when a number does not fit', async () => {
    expect(await answerTo("insert into sample values ('L-7', 99999999999)")).toMatchObject({ status: 422 });
  });

  it('is a fault of the program when the statement is wrong', async () => {
    vi.spyOn(process.stderr, 'write').mockReturnValue(true);
    const answer = await answerTo('select secret_column from lot');
    expect(answer.status).toBe(500);
    expect(JSON.stringify(answer.body)).not.toContain('secret_column');
  });

  it('is to be tried again after a deadlock, or when no connection is left', async () => {
    vi.spyOn(process.stderr, 'write').mockReturnValue(true);
    const raise = (code: string): string =>
      `do $$ begin raise exception 'x' using errcode = '${code}'; end $$`;
    expect(await answerTo(raise('40P01'))).toMatchObject({ status: 503, retryAfter: '1' });
    expect(await answerTo(raise('53300'))).toMatchObject({ status: 503, retryAfter: '5' });
  });
});
