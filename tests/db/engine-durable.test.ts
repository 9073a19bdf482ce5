import { once } from 'node:events';
import { existsSync, fsyncSync, mkdirSync, mkdtempSync, readlinkSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { sql } from 'kysely';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { openDatabase } from '../../db/open.ts';
import { childProgram } from '../support/child-process.ts';

vi.mock('node:fs', async (importOriginal) => {
  const real = await importOriginal<typeof import('node:fs')>();
  return { ...real, fsyncSync: vi.fn(real.fsyncSync) };
});

describe('an embedded database in a directory', () => {
  let dataDir: string;
  beforeEach(() => {
    dataDir = mkdtempSync(join(tmpdir(), 'poursheet-durable-'));
  });
  afterEach(() => {
    rmSync(dataDir, { recursive: true, force: true });
  });

  it('syncs the write-ahead log to the disk at every commit', async () => {
    const { db, close } = await openDatabase({ dataDir, durability: 'durable' });
    await sql`create table counted (id integer primary key)`.execute(db);
    const synced: string[] = [];
    const real = vi.mocked(fsyncSync).getMockImplementation();
    vi.mocked(fsyncSync).mockImplementation((descriptor) => {
      synced.push(process.platform === 'linux' ? readlinkSync(`/proc/self/fd/${descriptor}`) : '/pg_wal/');
      if (real === undefined) throw new Error('there is no fsync below');
      real(descriptor);
    });
    for (let id = 1; id <= 20; id += 1) await sql`insert into counted values (${id})`.execute(db);
    expect(synced.filter((path) => path.includes('/pg_wal/')).length).toBeGreaterThanOrEqual(20);
    await close();
  });

  it('acknowledges nothing that the disk did not take', async () => {
    const { db, stopped, close } = await openDatabase({ dataDir, durability: 'durable' });
    await sql`create table counted (id integer primary key)`.execute(db);
    await sql`insert into counted values (1)`.execute(db);
    vi.mocked(fsyncSync).mockImplementationOnce(() => {
      throw Object.assign(new Error('EIO: i/o error, fsync'), { code: 'EIO' });
    });
    const adding = db.transaction().execute(async (trx) => {
      await sql`insert into counted values (2)`.execute(trx);
    });
    await expect(adding).rejects.toThrow(/stopped by itself: could not fsync/);
    expect((await stopped).message).toContain('health of the disk');
    await expect(sql`select id from counted`.execute(db)).rejects.toThrow(/stopped by itself/);
    await close();

    const again = await openDatabase({ dataDir, durability: 'durable' });
    const { rows } = await sql<{ id: number }>`select id from counted where id = 1`.execute(again.db);
    expect(rows).toEqual([{ id: 1 }]);
    await again.close();
  });

  it('keeps every acknowledged row when the process is killed', async () => {
    const { start } = await childProgram('tests/db/children/insert-until-killed.ts');
    const child = start([dataDir]).process;
    let acknowledged = 0;
    child.on('message', (id) => {
      acknowledged = Number(id);
      if (acknowledged === 50) child.kill('SIGKILL');
    });
    await once(child, 'exit');

    const { db, close } = await openDatabase({ dataDir, durability: 'durable' });
    const { rows } = await sql<{ id: number }>`select id from counted order by id`.execute(db);
    expect(rows.length).toBeGreaterThanOrEqual(acknowledged);
    expect(rows.map((row) => row.id)).toEqual(rows.map((_, index) => index + 1));
    await close();
  });

  it('starts over when its making was cut short', async () => {
    mkdirSync(join(dataDir, 'database.making'));
    writeFileSync(join(dataDir, 'database.making', 'PG_VERSION'), '18\n');
    const { db, close } = await openDatabase({ dataDir, durability: 'fast' });
    const { rows } = await sql`select 1 as one`.execute(db);
    expect(rows).toEqual([{ one: 1 }]);
    expect(existsSync(join(dataDir, 'database.making'))).toBe(false);
    await close();
  });
});
