import { existsSync, mkdirSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import pg from 'pg';
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest';
import { createApp } from '../../api/app.ts';
import { fileName, keptIn } from '../../api/backups/backup-directory.ts';
import { openBackups } from '../../api/backups/backups.ts';
import { keptMoments } from '../../api/backups/retention.ts';
import { ensureMill } from '../../db/queries/mill.ts';
import { backupLines } from '../support/backup-lines.ts';
import { childProgram, type ChildProgram } from '../support/child-process.ts';
import { databaseNamed } from '../support/database-url.ts';
import { describeOnEveryEngine } from '../support/engines.ts';
import type { WatchedChild } from '../support/watched-child.ts';

const DAY_MS = 86_400_000;

describe('which backups are kept', () => {
  const daily = (days: number): Date[] =>
    Array.from({ length: days }, (_, day) => new Date(Date.UTC(2026, 0, 1, 12) + day * DAY_MS));
  const kept = (moments: Date[]): string[] =>
    [...keptMoments(moments)]
      .map((moment) => moment.toISOString().slice(0, 10))
      .sort((a, b) => (a < b ? 1 : -1));

  it('is one a day for a week, a week for a month, a month for a year', () => {
    // 2027-12-31, a Friday, back: 7 days, then Sundays of earlier weeks, then ends of months.
    expect(kept(daily(730))).toEqual([
      '2027-12-31',
      '2027-12-30',
      '2027-12-29',
      '2027-12-28',
      '2027-12-27',
      '2027-12-26',
      '2027-12-25',
      '2027-12-19',
      '2027-12-12',
      '2027-11-30',
      '2027-10-31',
      '2027-09-30',
      '2027-08-31',
      '2027-07-31',
      '2027-06-30',
      '2027-05-31',
      '2027-04-30',
      '2027-03-31',
      '2027-02-28',
      '2027-01-31',
    ]);
  });

  it('is the last of a day with several, and nothing is lost while a mill stands still', () => {
    const [a, b] = [new Date('2026-05-01T08:00:00Z'), new Date('2026-05-01T18:00:00Z')];
    expect([...keptMoments([a, b])]).toEqual([b]);
    expect(keptMoments(daily(3)).size).toBe(3);
  });
});

describeOnEveryEngine('the daily backup', (open) => {
  const base = mkdtempSync(join(tmpdir(), 'poursheet-daily-'));
  afterAll(() => rmSync(base, { recursive: true, force: true }));

  it('is made once a day, kept by the rule, offered to the owner, and a failure is told', async () => {
    const database = await open();
    await ensureMill(database.db, 2026);
    const directory = join(base, database.engine);
    let now = new Date('2026-05-01T08:00:00Z');
    const backups = openBackups({ database, directory, now: () => now });
    const app = createApp({ db: database.db, now: () => now, backups });
    const status = async () =>
      (await (await app.request('/api/backups')).json()) as {
        backups: { file: string; madeAt: string; sizeBytes: number }[];
        isOverdue: boolean;
        lastFailure: { reason: string } | null;
      };
    expect(await status()).toEqual({ directory, backups: [], isOverdue: false, lastFailure: null });

    await backups.makeIfDue();
    await backups.makeIfDue();
    expect(keptIn(directory)).toHaveLength(1);
    for (let day = 1; day <= 20; day += 1) {
      now = new Date(Date.parse('2026-05-01T08:00:00Z') + day * DAY_MS);
      await backups.makeIfDue();
    }
    const after = await status();
    expect(after.backups.map(({ madeAt }) => madeAt.slice(0, 10))).toEqual([
      '2026-05-21',
      '2026-05-20',
      '2026-05-19',
      '2026-05-18',
      '2026-05-17',
      '2026-05-16',
      '2026-05-15',
      '2026-05-10',
      '2026-05-03',
    ]);

    now = new Date('2026-05-21T09:00:00Z');
    const made = await app.request('/api/backups', { method: 'POST' });
    expect(made.status).toBe(201);
    const { file, sizeBytes } = (await made.json()) as { file: string; sizeBytes: number };
    const got = await app.request(`/api/backups/${file}`);
    expect(got.headers.get('content-disposition')).toBe(`attachment; filename="${file}"`);
    const bytes = Buffer.from(await got.arrayBuffer());
    expect(bytes).toHaveLength(sizeBytes);
    const copy = join(base, `copy-${database.engine}`);
    writeFileSync(copy, bytes);
    expect(backupLines(copy).header.madeAt).toBe(now.toISOString());
    expect((await app.request(`/api/backups/${fileName(new Date(0))}`)).status).toBe(404);
    expect((await app.request('/api/backups/..%2F..%2Fetc%2Fpasswd')).status).toBe(422);

    now = new Date(now.getTime() + 3 * DAY_MS);
    expect((await status()).isOverdue).toBe(false);
    now = new Date(now.getTime() + 1);
    expect((await status()).isOverdue).toBe(true);
    rmSync(directory, { recursive: true });
    writeFileSync(directory, 'a file where the directory should be');
    now = new Date(now.getTime() + DAY_MS);
    await backups.makeIfDue();
    expect(backups.lastFailure()?.reason).toMatch(/EEXIST|ENOTDIR/);
    rmSync(directory);
    await backups.makeIfDue();
    expect(await status()).toMatchObject({ lastFailure: null, backups: [{ madeAt: now.toISOString() }] });
    await backups.stop();
  });
});

describe('--backup and --restore', () => {
  let program: ChildProgram;
  const base = mkdtempSync(join(tmpdir(), 'poursheet-commands-'));
  beforeAll(async () => {
    program = await childProgram('api/server.ts');
    mkdirSync(join(program.directory, 'web'));
    writeFileSync(join(program.directory, 'web', 'index.html'), '<title>front page</title>');
  });
  afterAll(() => rmSync(base, { recursive: true, force: true }));
  const place = (name: string): string => join(base, name);
  const run = async (...args: string[]) => {
    const child = program.start(args, { POURSHEET_EMPTY: '1' });
    return { code: await child.ended, text: child.output() };
  };
  const readyAt = async (child: WatchedChild): Promise<string> =>
    /is ready: (http:\S+)/.exec(await child.written(/is ready: http:\S+\n/))?.[1] ?? '';
  const withoutMoment = (file: string) => {
    const { header, rows } = backupLines(file);
    return { tables: header.tables, rows };
  };

  it(
    'copy a running mill through the one that runs, and bring it back into a new directory',
    { timeout: 600_000 },
    async () => {
      const running = program.start(['--port', '0', '--data', place('mill')], { POURSHEET_EMPTY: '1' });
      await readyAt(running);
      const first = place('first.jsonl.gz');
      const copied = await run('--backup', first, '--data', place('mill'));
      expect(copied.text).toMatch(
        /backed up in .*first\.jsonl\.gz \(\d+ kB, made by the Poursheet that is running\)/,
      );
      expect(copied.code).toBe(0);
      expect(keptIn(place('backups/mill'))).toHaveLength(1);
      expect(await run('--backup', first, '--data', place('mill'))).toMatchObject({
        code: 1,
        text: expect.stringContaining('There is a file'),
      });
      expect(await run('--restore', first, '--data', place('mill'))).toMatchObject({
        code: 1,
        text: expect.stringContaining('in use by another Poursheet'),
      });
      running.process.kill('SIGTERM');
      expect(await running.ended).toBe(0);

      const stopped = place('stopped.jsonl.gz');
      expect((await run('--backup', stopped, '--data', place('mill'))).code).toBe(0);
      expect(withoutMoment(stopped)).toEqual(withoutMoment(first));

      const back = await run('--restore', first, '--data', place('new'));
      expect(back.text).toMatch(/are brought back into .*new: \d+ rows of \d+ tables\./);
      expect(back.code).toBe(0);
      expect(await run('--restore', first, '--data', place('new'))).toMatchObject({
        code: 1,
        text: expect.stringContaining('There are records here already'),
      });
      expect(await run('--verify', '--data', place('new'))).toMatchObject({ code: 0 });
      writeFileSync(place('cut'), 'not a backup');
      const refused = await run('--restore', place('cut'), '--data', place('other'));
      expect(refused).toMatchObject({ code: 1, text: expect.stringContaining('not a whole backup') });
      expect(existsSync(place('other/database'))).toBe(false);
      expect(readdirSync(base).filter((name) => name.includes('making'))).toEqual([]);
    },
  );

  it('work on a PostgreSQL server as on a directory', { timeout: 600_000 }, async (context) => {
    const server = inject('testServer');
    if ('missing' in server) return context.skip(server.missing);
    const name = `poursheet_${crypto.randomUUID().replaceAll('-', '')}`;
    const client = new pg.Client({ connectionString: server.url });
    await client.connect();
    try {
      await client.query(`create database ${name} template template0`);
      const there = ['--database', databaseNamed(server.url, name)];
      expect(await run('--backup', place('none.jsonl.gz'), ...there)).toMatchObject({
        code: 1,
        text: expect.stringContaining('nothing to back up'),
      });
      expect((await run('--restore', place('first.jsonl.gz'), ...there)).code).toBe(0);
      expect((await run('--verify', ...there)).code).toBe(0);
      expect((await run('--backup', place('server.jsonl.gz'), ...there)).code).toBe(0);
      expect(withoutMoment(place('server.jsonl.gz'))).toEqual(withoutMoment(place('first.jsonl.gz')));
      expect((await run('--restore', place('first.jsonl.gz'), ...there)).text).toContain(
        'records here already',
      );
    } finally {
      await client.query(`drop database if exists ${name} with (force)`);
      await client.end();
    }
  });
});
