import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import pg from 'pg';
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest';
import { openDatabase } from '../../db/open.ts';
import { childProgram, type ChildProgram } from '../support/child-process.ts';
import { databaseNamed } from '../support/database-url.ts';

const header = 'metal,quoted_on,price,currency,unit,source';
const MANY = 60_000;
const rows = Array.from({ length: MANY }, (_, at) => {
  const day = new Date(Date.UTC(1950, 0, 1) + (at >> 2) * 86_400_000).toISOString().slice(0, 10);
  return `${['Au', 'Ag', 'Pt', 'Pd'][at % 4]},${day},${1000 + at}.25,USD,ozt,Invented`;
});

describe('killed in the middle of an import', () => {
  let program: ChildProgram;
  const base = mkdtempSync(join(tmpdir(), 'poursheet-import-killed-'));
  beforeAll(async () => {
    program = await childProgram('api/server.ts');
    mkdirSync(join(program.directory, 'web'));
    writeFileSync(join(program.directory, 'web', 'index.html'), '<title>front page</title>');
  });
  afterAll(() => rmSync(base, { recursive: true, force: true }));

  /** Sends a file and kills the program once it has told of a step; then starts it again and looks. */
  const killedAt = async (
    step: 'reading' | 'writing',
    args: string[],
    place: { dataDir: string } | { databaseUrl: string },
  ) => {
    const start = () => program.start([...args, '--port', '0', '--empty', '--backups', 'off']);
    const child = start();
    const [, url = ''] = /is ready: (http:\S+)/.exec(await child.written(/is ready: http:\S+\n/)) ?? [];
    const response = await fetch(`${url}/api/imports/quotations?fileName=a.csv`, {
      method: 'POST',
      headers: { 'content-type': 'text/csv' },
      body: `${header}\n${rows.join('\n')}\n`,
    });
    const reader = response.body?.getReader() ?? expect.fail();
    for (let text = ''; !new RegExp(`"done":[1-9]\\d*,"of":\\d+,"step":"${step}"`).test(text);) {
      const { value, done } = await reader.read();
      if (done) expect.fail('the import ended before the program was killed');
      text += new TextDecoder().decode(value);
    }
    child.process.kill('SIGKILL');
    await child.ended;
    await reader.cancel().catch(() => {});

    const again = start();
    await again.written(/is ready: http:\S+\n/);
    again.process.kill('SIGINT');
    await again.ended;
    const { db, close } = await openDatabase({ ...place, durability: 'durable' });
    try {
      const count = async (table: 'quotation' | 'importedFile' | 'importRow') => {
        const all = await db
          .selectFrom(table)
          .select(({ fn }) => fn.countAll<string>().as('count'))
          .execute();
        return Number(all[0]?.count);
      };
      return {
        quotations: await count('quotation'),
        files: await count('importedFile'),
        staged: await count('importRow'),
      };
    } finally {
      await close();
    }
  };

  it('leaves nothing of a file that was being read', async () => {
    const dataDir = join(base, 'reading');
    expect(await killedAt('reading', ['--data', dataDir], { dataDir })).toEqual({
      quotations: 0,
      files: 0,
      staged: 0,
    });
  });

  it('leaves all or nothing of a file whose rows were being written', async () => {
    const dataDir = join(base, 'writing');
    const { quotations, files, staged } = await killedAt('writing', ['--data', dataDir], { dataDir });
    expect([0, 1]).toContain(files);
    expect({ quotations, staged }).toEqual({ quotations: files * MANY, staged: 0 });
  });

  const server = inject('testServer');
  it('leaves nothing of it in the books on a server', async (context) => {
    if ('missing' in server) return context.skip(server.missing);
    const client = new pg.Client({ connectionString: server.url });
    await client.connect();
    await client.query('create database import_killed template template0');
    try {
      const databaseUrl = databaseNamed(server.url, 'import_killed');
      const left = await killedAt('reading', ['--database', databaseUrl], { databaseUrl });
      expect(left).toMatchObject({ quotations: 0, files: 0 });
      // Others may be reading a file just now: rows that wait are taken away an hour later.
      expect(left.staged).toBeGreaterThan(0);
    } finally {
      await client.query('drop database import_killed with (force)');
      await client.end();
    }
  });
});
