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
  const verify = async (...more: string[]) => {
    const child = program.start(['--verify', '--data', dataDir, ...more]);
    return { code: await child.ended, text: child.output() };
  };

  it('finds no books where there are none, and makes none', async () => {
    expect(await verify()).toEqual({
      code: 1,
      text: `There are no books in ${dataDir}. Name their directory with --data.\n`,
    });
    expect(readdirSync(base)).toEqual([]);
  });

  it('holds for the demo season, not while it is in use, and finds a past that was rewritten without a gap', async () => {
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

    const [, sequence = '', noted = ''] =
      /last entry is (\d+), its fingerprint (\w{64})/.exec(sound.text) ?? [];
    const { db, close } = await openDatabase({ dataDir, durability: 'fast' });
    await sql`insert into counterparty (id, name) values (gen_random_uuid(), 'Later Buyer (invented)')`.execute(
      db,
    );
    await close();
    const later = await verify('--fingerprint', noted);
    expect(later.text).toContain(
      `The fingerprint that you noted is that of entry ${sequence}: nothing up to it was altered since you noted it.`,
    );
    expect(later.text).toContain(`The last entry is ${Number(sequence) + 1},`);
    expect(later.code).toBe(0);
    expect(await verify('--fingerprint', noted.slice(1))).toMatchObject({
      code: 2,
      text: expect.stringMatching(/^--fingerprint is "\w{63}"; it must be the 64 digits/),
    });

    await rewriteHistory();
    expect((await verify()).code).toBe(0);
    expect(await verify('--fingerprint', noted)).toMatchObject({
      code: 1,
      text: expect.stringContaining('- No entry of the audit has the fingerprint that you noted'),
    });
  });

  /** What somebody with the database's own tools can do: another past, chained anew without a gap. */
  async function rewriteHistory(): Promise<void> {
    const { db, close } = await openDatabase({ dataDir, durability: 'fast' });
    await sql`alter table audit_entry disable trigger user`.execute(db);
    await sql`alter table audit_head disable trigger user`.execute(db);
    await sql`update audit_entry set actor = 'somebody else'
      where sequence = (select max(sequence) - 3 from audit_entry)`.execute(db);
    await sql`do $$
      declare entry audit_entry; head text := repeat('0', 64);
      begin
        for entry in select * from audit_entry order by sequence loop
          update audit_entry set previous_hash = head,
            hash = encode(sha256(convert_to(head || E'\\n' || audit_text(entry), 'UTF8')), 'hex')
            where id = entry.id returning hash into head;
        end loop;
        update audit_head set hash = head;
      end $$`.execute(db);
    await sql`alter table audit_entry enable trigger user`.execute(db);
    await sql`alter table audit_head enable trigger user`.execute(db);
    await close();
  }

  it('finds a statement changed behind its back', async () => {
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
