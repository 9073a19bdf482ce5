import { mkdirSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { sql } from 'kysely';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openDatabase } from '../../db/open.ts';
import { childProgram, type ChildProgram } from '../support/child-process.ts';

describe('--verify', () => {
  let program: ChildProgram;
  const base = mkdtempSync(join(tmpdir(), 'poursheet-verify-'));
  const dataDir = join(base, 'demo');
  beforeAll(async () => {
    program = await childProgram('api/server.ts');
    mkdirSync(join(program.directory, 'web'));
    writeFileSync(join(program.directory, 'web', 'index.html'), '<title>front page</title>');
  });
  afterAll(() => rmSync(base, { recursive: true, force: true }));
  const verify = async () => {
    const child = program.start(['--verify', '--data', dataDir]);
    return { code: await child.ended, text: child.output() };
  };

  it('finds no books where there are none, and makes none', async () => {
    expect(await verify()).toEqual({
      code: 1,
      text: `There are no books in ${dataDir}. Name their directory with --data.\n`,
    });
    expect(readdirSync(base)).toEqual([]);
  });

  it('holds for the demo season, not while it is in use, and finds a statement changed behind its back', async () => {
    const running = program.start(['--port', '0', '--data', dataDir]);
    await running.written(/is ready: http:\S+\n/);
    expect(await verify()).toMatchObject({
      code: 1,
      text: expect.stringContaining('in use by another Poursheet'),
    });
    running.process.kill('SIGINT');
    await running.ended;

    const sound = await verify();
    expect(sound.text).toMatch(
      /^The books are as they were written: \d{3,} entries .*\nand \d issued statements are as they were issued\.\nThe last entry is \d+, its fingerprint [0-9a-f]{64}\./,
    );
    expect(sound.code).toBe(0);

    const { db, close } = await openDatabase({ dataDir, durability: 'fast' });
    await sql`alter table statement disable trigger user`.execute(db);
    await sql`update statement set total = total + 100 where number = 'S-0001'`.execute(db);
    await sql`alter table statement enable trigger user`.execute(db);
    await close();
    expect(await verify()).toEqual({
      code: 1,
      text: 'The books are not as they were written.\n- Statement S-0001 is not as it was issued: total was changed without the audit.\n',
    });
    expect(readdirSync(dataDir)).toEqual(['database']);
  });
});
