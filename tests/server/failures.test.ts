import { once } from 'node:events';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { request, type IncomingMessage } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { verifyAudit } from '../../db/audit/verify.ts';
import { openDatabase } from '../../db/open.ts';
import { account, GOOD_PASSWORD } from '../support/accounts.ts';
import { lossOf } from '../support/books-whole.ts';
import { childProgram, type ChildProgram } from '../support/child-process.ts';
import { cuttableProxy } from '../support/cuttable-proxy.ts';
import { smallMill } from '../support/mill.ts';
import { onServer, ownDatabases } from '../support/program-on-server.ts';
import { soldParcel } from '../support/settled-parcel.ts';
import type { WatchedChild } from '../support/watched-child.ts';
import { beginMill, nothingYet, writeUntilGone } from '../support/writing-load.ts';

describe('the program when something fails', () => {
  let program: ChildProgram;
  const base = mkdtempSync(join(tmpdir(), 'poursheet-failures-'));
  const ownDatabase = ownDatabases();
  beforeAll(async () => {
    program = await childProgram('api/server.ts');
    mkdirSync(join(program.directory, 'web'));
    writeFileSync(join(program.directory, 'web', 'index.html'), '<title>front page</title>');
  });
  afterAll(() => rmSync(base, { recursive: true, force: true }));
  const start = (...args: string[]): WatchedChild =>
    program.start([...args, '--port', '0', '--empty', '--backups', 'off']);
  const readyAt = async (child: WatchedChild): Promise<string> =>
    /is ready: (http:\S+)/.exec(await child.written(/is ready: http:\S+\n/))?.[1] ?? '';
  const stop = async (child: WatchedChild): Promise<void> => {
    child.process.kill('SIGTERM');
    expect(await child.ended).toBe(0);
  };

  it.skipIf(ownDatabase === undefined)(
    'answers 503 while its database server is gone or throws it out, recovers by itself, and loses nothing',
    async () => {
      const databaseUrl = (await ownDatabase?.()) ?? '';
      const wire = await cuttableProxy(databaseUrl);
      const running = start('--database', wire.url);
      const url = await readyAt(running);
      const acknowledged = nothingYet();
      const ids = await beginMill(url);
      acknowledged.lots.set(ids.lotId, 2);

      const over = new AbortController();
      const writing = writeUntilGone(url, ids, acknowledged, over.signal);
      const throwOut = `select pg_terminate_backend(pid) from pg_stat_activity
        where datname = current_database() and pid <> pg_backend_pid()`;
      for (let times = 0; times < 3; times += 1) {
        await wait(500);
        await onServer(databaseUrl, throwOut);
      }
      await wait(500);
      await wire.cut();
      const gone = await fetch(`${url}/api/lots`);
      expect(gone.status).toBe(503);
      expect(gone.headers.get('retry-after')).toBe('5');
      expect(await gone.json()).toMatchObject({
        type: '/problems/unavailable',
        detail: expect.stringMatching(
          /^The (database server cannot be reached|connection to the database was lost)/,
        ),
      });
      expect((await fetch(`${url}/health/ready`)).status).toBe(503);
      expect((await fetch(`${url}/health/live`)).status).toBe(200);
      expect((await fetch(url, { headers: { accept: 'text/html' } })).status).toBe(200);
      const before = acknowledged.lots.size + acknowledged.smelts.size;
      await wire.mend();
      await wait(1500);
      over.abort();
      const { refusals } = await writing;
      expect(acknowledged.lots.size + acknowledged.smelts.size).toBeGreaterThan(before);
      const faults = running.output().match(/.*"status":500.*|.*TypeError.*/g);
      expect({ refusals: [...new Set(refusals)], faults }).toEqual({ refusals: [503], faults: null });
      expect((await fetch(`${url}/health/ready`)).status).toBe(200);
      expect(running.output()).toMatch(/"event":"request-failed","requestId":"[\w-]+"/);
      await stop(running);

      const opened = await openDatabase({ databaseUrl, durability: 'durable' });
      expect(await lossOf(opened, acknowledged)).toMatchObject({
        missing: 0,
        halfWritten: 0,
        auditFaults: [],
      });
      await opened.close();
      await wire.cut();
    },
  );

  it('finishes what is in flight when it is told to stop, and does not wait for ever', async () => {
    const dataDir = join(base, 'stopping');
    const running = start('--data', dataDir);
    const url = await readyAt(running);
    const ids = await beginMill(url);
    const body = JSON.stringify({
      seasonId: ids.seasonId,
      code: 'IN-FLIGHT',
      madeOn: '2026-05-20',
      wetMassKg: '250',
      moistureFrac: '0',
    });
    const begin = (): ReturnType<typeof request> => {
      const sending = request(`${url}/api/lots`, {
        method: 'POST',
        headers: { 'content-type': 'application/json', 'content-length': String(Buffer.byteLength(body)) },
      });
      sending.write(body.slice(0, 20));
      return sending;
    };
    const [slow, endless] = [begin(), begin()];
    const cutOff = once(endless, 'error');
    await wait(300);
    running.process.kill('SIGTERM');
    await running.written(/Stopping\./);
    await expect(fetch(`${url}/api/lots`)).rejects.toThrow('fetch failed');
    const answered = once(slow, 'response') as Promise<[IncomingMessage]>;
    slow.end(body.slice(20));
    const [answer] = await answered;
    expect(answer.statusCode).toBe(201);
    answer.resume();
    expect(await cutOff).toMatchObject([{ code: 'ECONNRESET' }]);
    expect(await running.ended).toBe(0);

    const opened = await openDatabase({ dataDir, durability: 'durable' });
    const lots = await opened.db.selectFrom('lot').select('code').where('code', '=', 'IN-FLIGHT').execute();
    expect(lots).toHaveLength(1);
    await opened.close();
  });

  it.skipIf(ownDatabase === undefined)('two on one PostgreSQL behave as one', async () => {
    const databaseUrl = (await ownDatabase?.()) ?? '';
    const opened = await openDatabase({ databaseUrl, durability: 'fast' });
    const mill = await smallMill(opened.db);
    const drafts: { id: string; version: number }[] = [];
    for (let number = 0; number < 6; number += 1) {
      const { entry } = await soldParcel(mill, `T${number}`);
      drafts.push(await mill.enter('POST', '/statements', entry));
    }
    await account(opened.db, { name: 'Ann', role: 'owner' });
    const both = [start('--database', databaseUrl), start('--database', databaseUrl)];
    const urls = await Promise.all(both.map(readyAt));
    const post = (place: number, path: string, body: unknown, cookie = '', key = '') =>
      fetch(`${urls[place]}/api${path}`, {
        method: 'POST',
        headers: {
          'content-type': 'application/json',
          ...(cookie === '' ? {} : { cookie }),
          ...(key === '' ? {} : { 'idempotency-key': `"${key}"` }),
        },
        body: JSON.stringify(body),
      });

    const signedIn = await post(0, '/session', { name: 'Ann', password: GOOD_PASSWORD });
    const cookie = signedIn.headers.get('set-cookie')?.split(';')[0] ?? '';
    for (const url of urls)
      expect((await fetch(`${url}/api/lots`, { headers: { cookie } })).status).toBe(200);

    const issued = await Promise.all(
      drafts.map(async ({ id, version }, place) => {
        for (;;) {
          const answer = await post(
            place % 2,
            `/statements/${id}/issue`,
            { version, issuedOn: '2026-06-09' },
            cookie,
          );
          // Two at the same moment: one of them is told to try again.
          if (answer.status !== 503) return (await answer.json()) as { number: string };
          expect(answer.headers.get('retry-after')).not.toBeNull();
          await answer.arrayBuffer();
        }
      }),
    );
    expect(issued.map(({ number }) => number).sort((a, b) => a.localeCompare(b))).toEqual([
      'S-0001',
      'S-0002',
      'S-0003',
      'S-0004',
      'S-0005',
      'S-0006',
    ]);

    const supply = { name: 'Borax of two', kind: 'reagent', unit: 'kg' };
    const twice = await Promise.all(
      [0, 1].map((place) => post(place, '/supplies', supply, cookie, 'the-same')),
    );
    expect(twice.map(({ status }) => status).filter((status) => status === 201).length).toBeGreaterThan(0);
    expect(twice.every(({ status }) => status === 201 || status === 409)).toBe(true);
    const kept = await opened.db.selectFrom('supply').select('id').where('name', '=', supply.name).execute();
    expect(kept).toHaveLength(1);

    const tries: number[] = [];
    for (let number = 0; number < 12; number += 1)
      tries.push(
        (await post(number % 2, '/session', { name: 'Ann', password: `wrong words here ${number}` })).status,
      );
    expect(tries).toContain(429);

    for (const child of both) await stop(child);
    expect((await verifyAudit(opened.db)).faults).toEqual([]);
    await opened.close();
  });
});
