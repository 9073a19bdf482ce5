import { once } from 'node:events';
import { get, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { createAdaptorServer } from '@hono/node-server';
import { sql } from 'kysely';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { createMetrics } from '../../api/operations/metrics.ts';
import { exposition } from '../../api/operations/exposition.ts';
import { operationRoutes } from '../../api/operations/operation-routes.ts';
import { createApp } from '../../api/app.ts';
import { createSite } from '../../api/site.ts';
import { ensureMill } from '../../db/queries/mill.ts';
import type { OpenDatabase } from '../../db/open.ts';
import { account, GOOD_PASSWORD, quickPasswords } from '../support/accounts.ts';
import { builtPages } from '../support/built-pages.ts';
import { describeOnEmbedded } from '../support/engines.ts';

/** One line of the OpenMetrics 1.0.0 text format, by its ABNF: name, labels in braces, number. */
const SAMPLE =
  /^[a-zA-Z_:][a-zA-Z0-9_:]*(\{[a-zA-Z_]\w*="(?:[^"\\\n]|\\[\\n"])*"(,[a-zA-Z_]\w*="(?:[^"\\\n]|\\[\\n"])*")*\})? -?[0-9.e+-]+$/;

describeOnEmbedded('what the program tells of itself', (open) => {
  let database: OpenDatabase;
  let server: Server;
  let url = '';
  beforeAll(async () => {
    database = await open();
    await ensureMill(database.db, 2026);
    const deps = {
      db: database.db,
      now: () => new Date('2026-09-01T12:00:00Z'),
      passwords: quickPasswords(),
    };
    const metrics = createMetrics(() => performance.now());
    const operations = operationRoutes({
      deps,
      backups: undefined,
      secret: 'known here',
      metrics,
      connections: database.connections,
    });
    const site = createSite({
      app: createApp(deps),
      webRoot: builtPages(),
      now: () => performance.now(),
      operations,
      metrics,
    });
    server = createAdaptorServer({ fetch: site.fetch }) as Server;
    server.listen(0, '127.0.0.1');
    await once(server, 'listening');
    url = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
  });
  afterAll(() => server.close());

  it('says that it is alive, and ready when the database answers', async () => {
    expect(await (await fetch(`${url}/health/live`)).text()).toBe('alive\n');
    const ready = await fetch(`${url}/health/ready`);
    expect([ready.status, await ready.text()]).toEqual([200, 'ready\n']);
    expect(ready.headers.get('cache-control')).toBe('no-store');
  });

  it('is not ready while the database does not answer, and still alive', async () => {
    let free = (): void => undefined;
    const held = new Promise<void>((resolve) => (free = resolve));
    const holding = database.db.transaction().execute(() => held);
    const ready = await fetch(`${url}/health/ready`);
    expect(ready.status).toBe(503);
    expect(ready.headers.get('retry-after')).toBe('5');
    expect(await ready.json()).toMatchObject({ type: '/problems/unavailable' });
    expect((await fetch(`${url}/health/live`)).status).toBe(200);
    free();
    await holding;
    expect((await fetch(`${url}/health/ready`)).status).toBe(200);
  });

  it('counts requests by the route as declared, and measures in the open text format', async () => {
    await fetch(`${url}/api/lots`);
    for (const id of [crypto.randomUUID(), crypto.randomUUID()]) await fetch(`${url}/api/lots/${id}`);
    await fetch(`${url}/nowhere`, { headers: { accept: 'text/html' } });
    const answer = await fetch(`${url}/metrics`);
    expect(answer.headers.get('content-type')).toBe(
      'application/openmetrics-text; version=1.0.0; charset=utf-8',
    );
    const text = await answer.text();
    expect(text).toContain(
      'poursheet_request_duration_seconds_count{method="GET",route="/api/lots",status="200"} 1\n',
    );
    expect(text).toContain(
      'poursheet_request_duration_seconds_count{method="GET",route="/api/lots/:id",status="404"} 2\n',
    );
    expect(text).toContain('route="pages",status="200"} 1\n');
    expect(text).toMatch(/poursheet_database_connections\{state="open"\} 1\n/);
    expect(text).toMatch(/poursheet_memory_bytes\{kind="rss"\} \d{7,}\n/);
    expect(text).toMatch(/poursheet_event_loop_delay_seconds\{quantile="0.99"\} [\d.e-]+\n/);
    const lines = text.split('\n');
    expect(lines.slice(-2)).toEqual(['# EOF', '']);
    for (const line of lines.slice(0, -2))
      expect(line).toMatch(line.startsWith('# ') ? /^# (TYPE|HELP|UNIT) / : SAMPLE);
    const bucket = (le: string): number =>
      Number(
        new RegExp(`_bucket\\{method="GET",route="/api/lots/:id",status="404",le="${le}"\\} (\\d+)`).exec(
          text,
        )?.[1],
      );
    expect(bucket('\\+Inf')).toBe(2);
    expect(bucket('0.005')).toBeLessThanOrEqual(bucket('10'));
  });

  it('tells nothing to others: not through a proxy, not of a backup without the secret', async () => {
    await account(database.db, { name: 'Ann', role: 'owner' });
    await account(database.db, { name: 'Ben', role: 'operator' });
    const proxied = { 'x-forwarded-for': '203.0.113.9' };
    expect((await fetch(`${url}/metrics`, { headers: proxied })).status).toBe(403);
    expect((await fetch(`${url}/metrics`)).status).toBe(200);
    const cookieOf = async (name: string): Promise<string> => {
      const answer = await fetch(`${url}/api/session`, {
        method: 'POST',
        headers: { 'content-type': 'application/json' },
        body: JSON.stringify({ name, password: GOOD_PASSWORD }),
      });
      return answer.headers.get('set-cookie')?.split(';')[0] ?? '';
    };
    const asked = async (name: string): Promise<number> =>
      (await fetch(`${url}/metrics`, { headers: { ...proxied, cookie: await cookieOf(name) } })).status;
    expect([await asked('Ann'), await asked('Ben')]).toEqual([200, 403]);

    const backup = (authorization: string) =>
      fetch(`${url}/machine/backups`, { method: 'POST', headers: { authorization } });
    expect((await backup('Bearer guessed')).status).toBe(401);
    expect((await backup('')).status).toBe(401);
    expect((await backup('Bearer known here')).status).toBe(409);
  });

  it('answers only under the names of this machine', async () => {
    const { port } = server.address() as AddressInfo;
    const [response] = (await once(
      get({ host: '127.0.0.1', port, path: '/metrics', headers: { host: 'elsewhere.example' } }),
      'response',
    )) as [{ statusCode: number; resume: () => void }];
    response.resume();
    expect(response.statusCode).toBe(403);
    expect((await sql`select 1 as one`.execute(database.db)).rows).toEqual([{ one: 1 }]);
  });
});

it('labels that hold anything are escaped', () => {
  const text = exposition([
    {
      name: 'one',
      type: 'gauge',
      help: 'A\nhelp',
      samples: [{ suffix: '', labels: { a: 'x"y\\z\n' }, value: 1 }],
    },
  ]);
  expect(text).toBe('# TYPE one gauge\n# HELP one A\\nhelp\none{a="x\\"y\\\\z\\n"} 1\n# EOF\n');
});
