import { appendFileSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import pg from 'pg';
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest';
import { openDatabase } from '../../db/open.ts';
import { lossOf, type Loss } from '../support/books-whole.ts';
import { childProgram, type ChildProgram } from '../support/child-process.ts';
import { databaseNamed } from '../support/database-url.ts';
import { beginMill, nothingYet, writeUntilGone, type Acknowledged } from '../support/writing-load.ts';

/** How often the program is killed: 50 for the record in tests/bench/durability.md, fewer in every test run. */
const ROUNDS = Number(process.env['KILL_ROUNDS'] ?? '6');
/** A start takes long on a machine that is busy with other tests. */
const TIMEOUT_MS = 60_000 * (ROUNDS + 2);
/** Where the outcome is added as a line, if anywhere. */
const RECORD = process.env['KILL_RECORD'];

const countOf = ({ lots, smelts }: Acknowledged): number => lots.size + smelts.size;

describe(`killed ${ROUNDS} times at random moments under writing load`, () => {
  let program: ChildProgram;
  const base = mkdtempSync(join(tmpdir(), 'poursheet-killed-'));
  beforeAll(async () => {
    program = await childProgram('api/server.ts');
    mkdirSync(join(program.directory, 'web'));
    writeFileSync(join(program.directory, 'web', 'index.html'), '<title>front page</title>');
  });
  afterAll(() => rmSync(base, { recursive: true, force: true }));

  const killRounds = async (
    args: string[],
    place: { dataDir: string } | { databaseUrl: string },
  ): Promise<Loss> => {
    const acknowledged = nothingYet();
    let ids: Awaited<ReturnType<typeof beginMill>> | undefined;
    for (let round = 0; round < ROUNDS; round += 1) {
      const child = program.start([...args, '--port', '0', '--empty', '--backups', 'off']);
      const [, url = ''] = /is ready: (http:\S+)/.exec(await child.written(/is ready: http:\S+\n/)) ?? [];
      if (ids === undefined) {
        ids = await beginMill(url);
        acknowledged.lots.set(ids.lotId, 2);
      }
      const killed = new AbortController();
      const writing = writeUntilGone(url, ids, acknowledged, killed.signal);
      const countBefore = countOf(acknowledged);
      while (countOf(acknowledged) === countBefore && child.process.exitCode === null) await wait(5);
      await wait(Math.random() * 800);
      child.process.kill('SIGKILL');
      await child.ended;
      killed.abort();
      expect((await writing).refusals).toEqual([]);
    }
    const opened = await openDatabase({ ...place, durability: 'durable' });
    try {
      return await lossOf(opened, acknowledged);
    } finally {
      await opened.close();
    }
  };
  const record = (where: string, { acknowledged, missing, halfWritten, auditFaults }: Loss): void => {
    if (RECORD !== undefined)
      appendFileSync(
        RECORD,
        `| ${where} | ${ROUNDS} | ${acknowledged} | ${missing} | ${halfWritten} | ${auditFaults.length} |\n`,
      );
  };

  it(
    'the embedded database loses nothing acknowledged and keeps nothing by halves',
    { timeout: TIMEOUT_MS },
    async () => {
      const dataDir = join(base, 'mill');
      const loss = await killRounds(['--data', dataDir], { dataDir });
      record('embedded', loss);
      expect(loss.acknowledged).toBeGreaterThan(ROUNDS);
      expect(loss).toMatchObject({ missing: 0, halfWritten: 0, auditFaults: [] });
    },
  );

  it(
    'a PostgreSQL server loses nothing acknowledged and keeps nothing by halves',
    { timeout: TIMEOUT_MS },
    async (context) => {
      const server = inject('testServer');
      if ('missing' in server) return context.skip(server.missing);
      const name = `poursheet_${crypto.randomUUID().replaceAll('-', '')}`;
      const client = new pg.Client({ connectionString: server.url });
      await client.connect();
      try {
        await client.query(`create database ${name} template ${server.template}`);
        const databaseUrl = databaseNamed(server.url, name);
        const loss = await killRounds(['--database', databaseUrl], { databaseUrl });
        record('PostgreSQL server', loss);
        expect(loss.acknowledged).toBeGreaterThan(ROUNDS);
        expect(loss).toMatchObject({ missing: 0, halfWritten: 0, auditFaults: [] });
      } finally {
        await client.query(`drop database if exists ${name} with (force)`);
        await client.end();
      }
    },
  );
});
