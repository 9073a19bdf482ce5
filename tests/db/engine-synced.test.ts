import { cpSync, fsyncSync, mkdirSync, mkdtempSync, readlinkSync, rmSync, copyFileSync } from 'node:fs';
import fs from 'node:fs';
import { syncBuiltinESMExports } from 'node:module';
import { tmpdir } from 'node:os';
import { dirname, join, relative } from 'node:path';
import { sql } from 'kysely';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { toProblem } from '../../api/on-error.ts';
import { verifyAudit } from '../../db/audit/verify.ts';
import { migrate } from '../../db/migrate.ts';
import { openDatabase, type OpenDatabase } from '../../db/open.ts';
import { account } from '../support/accounts.ts';

vi.mock('node:fs', async (importOriginal) => {
  const real = await importOriginal<typeof import('node:fs')>();
  return { ...real, fsyncSync: vi.fn(real.fsyncSync) };
});

describe('an embedded database on a disk that fails', () => {
  let base: string;
  let dataDir: string;
  beforeEach(() => {
    base = mkdtempSync(join(tmpdir(), 'poursheet-synced-'));
    dataDir = join(base, 'mill');
  });
  afterEach(() => {
    rmSync(base, { recursive: true, force: true });
  });
  const open = async (directory = dataDir): Promise<OpenDatabase> => {
    const opened = await openDatabase({ dataDir: directory, durability: 'durable' });
    await migrate(opened.db);
    return opened;
  };
  const enter = async ({ db }: OpenDatabase, number: number): Promise<void> => {
    await account(db, { name: `Person ${number}`, role: 'operator' });
  };
  const entered = async ({ db }: OpenDatabase): Promise<number[]> => {
    const { rows } = await sql<{ number: number }>`
      select substr(name, 8)::integer as number from account where name like 'Person %' order by 1`.execute(
      db,
    );
    return rows.map(({ number }) => number);
  };

  it.skipIf(process.platform !== 'linux')(
    'has every acknowledged row on it, if the power fails and all is lost that was not synced',
    async () => {
      await (await open()).close();
      // Of each file the content at its last sync: what a disk surely has. The rest of the file system is as it was before.
      const onDisk = join(base, 'on disk');
      cpSync(dataDir, onDisk, { recursive: true });
      const real = vi.mocked(fsyncSync).getMockImplementation();
      if (real === undefined) throw new Error('there is no fsync below');
      let syncs = 0;
      vi.mocked(fsyncSync).mockImplementation((descriptor) => {
        real(descriptor);
        const path = readlinkSync(`/proc/self/fd/${descriptor}`);
        if (!path.startsWith(dataDir) || fs.fstatSync(descriptor).isDirectory()) return;
        syncs += 1;
        const copy = join(onDisk, relative(dataDir, path));
        mkdirSync(dirname(copy), { recursive: true });
        copyFileSync(path, copy);
      });

      const running = await open();
      let acknowledged = 0;
      for (const failsAt of [7, 12]) {
        while (acknowledged < failsAt) await enter(running, (acknowledged += 1));
        const after = join(base, `power failed at ${failsAt}`);
        cpSync(onDisk, after, { recursive: true });
        const again = await open(after);
        expect(await entered(again)).toEqual(Array.from({ length: failsAt }, (_, place) => place + 1));
        expect((await verifyAudit(again.db)).faults).toEqual([]);
        await again.close();
      }
      expect(syncs).toBeGreaterThanOrEqual(acknowledged);
      await running.close();
    },
  );

  it('that is full: what does not fit is refused as a whole, and what was acknowledged is kept', async () => {
    const first = await open();
    await enter(first, 1);
    const realWrite = fs.writeSync;
    const full = (): never => {
      throw Object.assign(new Error('ENOSPC: no space left on device, write'), {
        code: 'ENOSPC',
        errno: -28,
      });
    };
    let refused: unknown;
    try {
      fs.writeSync = full;
      syncBuiltinESMExports();
      refused = await enter(first, 2).then(
        () => undefined,
        (error: unknown) => error,
      );
    } finally {
      fs.writeSync = realWrite;
      syncBuiltinESMExports();
    }
    expect(refused).toBeInstanceOf(Error);
    const problem = toProblem(refused as Error);
    expect(problem).toMatchObject({ status: 503, kind: 'unavailable' });
    expect(problem.retryAfterS).toBeGreaterThan(0);
    await first.close();

    const again = await open();
    expect(await entered(again)).toEqual([1]);
    expect((await verifyAudit(again.db)).faults).toEqual([]);
    await enter(again, 2);
    expect(await entered(again)).toEqual([1, 2]);
    await again.close();
  });
});
