import {
  appendFileSync,
  existsSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { createHash } from 'node:crypto';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { sql } from 'kysely';
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest';
import { loadDemoSeason } from '../../api/demo/load-demo-season.ts';
import { verifyAudit } from '../../db/audit/verify.ts';
import { restoreBackup } from '../../db/backup/restore.ts';
import { writeBackup } from '../../db/backup/write.ts';
import { migrate } from '../../db/migrate.ts';
import { migrations } from '../../db/migrations/index.ts';
import type { OpenDatabase } from '../../db/open.ts';
import { ensureMill } from '../../db/queries/mill.ts';
import { account } from '../support/accounts.ts';
import { backupLines, writeLines } from '../support/backup-lines.ts';
import { openInMemory, openOnServer } from '../support/engines.ts';
import { millApi } from '../support/mill.ts';

const server = inject('testServer');
const serverMissing = 'missing' in server ? server.missing : undefined;
const MADE_AT = new Date('2026-10-14T20:00:00Z');

describe('a backup', () => {
  const directory = mkdtempSync(join(tmpdir(), 'poursheet-backup-'));
  const opened: OpenDatabase[] = [];
  const fresh = async (open: typeof openInMemory): Promise<OpenDatabase> => {
    const database = await open({ migrated: false });
    opened.push(database);
    return database;
  };
  let source: OpenDatabase;
  const file = join(directory, 'books.jsonl.gz');
  beforeAll(async () => {
    source = await openInMemory();
    opened.push(source);
    await ensureMill(source.db, 2026);
    await loadDemoSeason(source.db);
    await account(source.db, { name: 'Ann Öst "the \\ owner"\n', role: 'owner' });
    await writeBackup(source, { path: file, madeAt: MADE_AT });
  });
  afterAll(async () => {
    for (const database of opened) await database.close();
    rmSync(directory, { recursive: true, force: true });
  });

  it('says what is in it, holds every row of every table, and only its owner may read it', async () => {
    const { header, rows, trailer } = backupLines(file);
    expect(header).toMatchObject({ poursheetBackup: 1, madeAt: MADE_AT.toISOString(), engine: 'embedded' });
    expect(header.migrations).toEqual(Object.keys(migrations).sort());
    const tables = await sql<{ name: string }>`select tablename as name from pg_tables
      where schemaname = 'public' order by tablename collate "C"`.execute(source.db);
    // All but the rows of files that are still being imported, which are not of the books.
    const ofTheBooks = tables.rows.map(({ name }) => name).filter((name) => name !== 'import_row');
    expect(header.tables.map(({ name }) => name)).toEqual(ofTheBooks);
    for (const table of header.tables) {
      const counted = await sql<{
        count: string;
      }>`select count(*) as count from ${sql.id(table.name)}`.execute(source.db);
      expect([table.name, String(table.rows)]).toEqual([table.name, counted.rows[0]?.count]);
    }
    expect(rows).toHaveLength(header.tables.reduce((sum, table) => sum + table.rows, 0));
    expect(rows.length).toBeGreaterThan(2000);
    const text = [JSON.stringify(header), ...rows].map((line) => `${line}\n`).join('');
    expect(JSON.parse(trailer)).toEqual({
      sha256: createHash('sha256').update(text).digest('hex'),
      rows: rows.length,
    });
    expect(statSync(file).mode & 0o077).toBe(0);
    expect(readdirSync(directory)).toEqual(['books.jsonl.gz']);
  });

  const bringBack = async (target: OpenDatabase, from: string): Promise<void> => {
    const restored = await restoreBackup(target.db, from);
    expect(restored).toMatchObject({ rows: backupLines(from).rows.length, applied: [] });
    const again = join(directory, `again-${target.engine}.jsonl.gz`);
    await writeBackup(target, { path: again, madeAt: MADE_AT });
    expect(backupLines(again).rows).toEqual(backupLines(from).rows);
    expect(backupLines(again).header.sequences).toEqual(backupLines(from).header.sequences);
    const verdict = await verifyAudit(target.db);
    expect(verdict.faults).toEqual([]);
    expect(verdict).toEqual(await verifyAudit(source.db));
    expect(await shapeOf(target)).toEqual(await shapeOf(source));
  };

  it('brought back into another embedded database is equal row for row, and work goes on', async () => {
    const target = await fresh(openInMemory);
    await bringBack(target, file);
    const before = await verifyAudit(target.db);
    await account(target.db, { name: 'Ben', role: 'operator' });
    expect((await millApi(target.db).send('GET', '/lots')).status).toBe(401);
    const after = await verifyAudit(target.db);
    expect(after.faults).toEqual([]);
    expect(after.entryCount).toBeGreaterThan(before.entryCount);
  });

  it.skipIf(serverMissing !== undefined)(
    `goes from the embedded database to a PostgreSQL server and back, equal row for row (${serverMissing ?? 'server'})`,
    async () => {
      const there = await fresh(openOnServer);
      await bringBack(there, file);
      const back = await fresh(openInMemory);
      await bringBack(back, join(directory, 'again-server.jsonl.gz'));
    },
  );

  it.skipIf(serverMissing !== undefined)(
    `is of one moment though others write meanwhile (${serverMissing ?? 'server'})`,
    async () => {
      const busy = await fresh(openOnServer);
      await migrate(busy.db);
      await ensureMill(busy.db, 2026);
      let stop = false;
      const writing = (async () => {
        for (let number = 1; !stop; number += 1) {
          await busy.db.transaction().execute(async (trx) => {
            const id = crypto.randomUUID();
            await sql`insert into supply (id, name, kind, unit) values (${id}, ${`Soda ${number}`}, 'reagent', 'kg')`.execute(
              trx,
            );
            await sql`insert into supply_price (supply_id, effective_on, price, currency) values (${id}, '2026-01-01', 1, 'USD')`.execute(
              trx,
            );
          });
        }
      })();
      const target = await fresh(openOnServer);
      const path = join(directory, 'busy.jsonl.gz');
      for (let round = 0; round < 5; round += 1) await writeBackup(busy, { path, madeAt: MADE_AT });
      stop = true;
      await writing;
      await restoreBackup(target.db, path);
      expect((await verifyAudit(target.db)).faults).toEqual([]);
      const { rows } = await sql<{ supplies: string; prices: string }>`select
        (select count(*) from supply) as supplies, (select count(*) from supply_price) as prices`.execute(
        target.db,
      );
      expect(rows[0]?.supplies).toBe(rows[0]?.prices);
      expect(Number(rows[0]?.supplies)).toBeGreaterThan(0);
    },
  );

  describe('that is not whole, or does not fit', () => {
    let target: OpenDatabase;
    beforeAll(async () => {
      target = await fresh(openInMemory);
    });
    const refused = async (name: string, write: (path: string) => void, reason: RegExp): Promise<void> => {
      const path = join(directory, name);
      write(path);
      await expect(restoreBackup(target.db, path)).rejects.toThrow(reason);
      const left =
        await sql`select relname from pg_class where relnamespace = 'public'::regnamespace`.execute(
          target.db,
        );
      expect(left.rows).toEqual([]);
    };
    const bytes = (): Buffer => readFileSync(file);

    it('is refused when it is cut off, anywhere', async () => {
      for (const part of [0.1, 0.5, 0.9, 0.9999])
        await refused(
          'cut',
          (path) => writeFileSync(path, bytes().subarray(0, bytes().length * part)),
          /not a whole backup/,
        );
    });

    it('is refused when a byte of it was altered, or something was added', async () => {
      await refused(
        'altered',
        (path) => {
          const altered = bytes();
          altered[Math.floor(altered.length / 2)] = (altered[Math.floor(altered.length / 2)] ?? 0) ^ 1;
          writeFileSync(path, altered);
        },
        /not a whole backup/,
      );
      await refused(
        'added',
        (path) => {
          writeFileSync(path, bytes());
          appendFileSync(path, 'more');
        },
        /not a whole backup/,
      );
    });

    it('is refused when a row was changed or taken out and the file packed anew', async () => {
      const { header, rows, trailer } = backupLines(file);
      const repacked = (changed: readonly string[]) => (path: string) =>
        writeLines(path, [JSON.stringify(header), ...changed, trailer]);
      const place = rows.findIndex((row) => row.includes('"L-01"'));
      expect(place).toBeGreaterThan(0);
      await refused(
        'changed',
        repacked(rows.with(place, (rows[place] ?? '').replace('"L-01"', '"L-99"'))),
        /contents are not those/,
      );
      await refused('fewer', repacked(rows.toSpliced(place, 1)), /not a whole backup/);
      await refused(
        'no-end',
        (path) => writeLines(path, [JSON.stringify(header), ...rows]),
        /ends before its last line/,
      );
    });

    it('is refused when it is of a newer format or version, or no backup at all', async () => {
      const { header, rows, trailer } = backupLines(file);
      const headed = (changes: object) => (path: string) =>
        writeLines(path, [JSON.stringify({ ...header, ...changes }), ...rows, trailer]);
      await refused('format', headed({ poursheetBackup: 2 }), /newer version of Poursheet \(format 2/);
      await refused(
        'version',
        headed({ migrations: [...header.migrations, '9999-of-next-year'] }),
        /newer version of Poursheet \(it holds 9999-of-next-year/,
      );
      await refused('tables', headed({ tables: header.tables.slice(1) }), /tables are not those/);
      await refused('other', (path) => writeLines(path, ['{"a":1}']), /not a backup of Poursheet/);
      await refused('text', (path) => writeFileSync(path, 'lot;mass\n'), /not a whole backup/);
    });

    it('is refused where there are records already, which stay as they are', async () => {
      const before = await verifyAudit(source.db);
      await expect(restoreBackup(source.db, file)).rejects.toThrow(/There are records here already/);
      expect(await verifyAudit(source.db)).toEqual(before);
    });
  });

  it('leaves no half-written file behind when it cannot be written', async () => {
    const nowhere = join(directory, 'no-such-directory', 'books.jsonl.gz');
    await expect(writeBackup(source, { path: nowhere, madeAt: MADE_AT })).rejects.toThrow(/ENOENT/);
    expect(existsSync(nowhere)).toBe(false);
    const empty = await fresh(openInMemory);
    await expect(writeBackup(empty, { path: join(directory, 'empty'), madeAt: MADE_AT })).rejects.toThrow(
      /nothing to back up/,
    );
    expect(readdirSync(directory).filter((name) => /empty|making/.test(name))).toEqual([]);
  });
});

/** Every trigger, reference, check, index and column, so that a restored database guards what the first one did. */
async function shapeOf({ db }: OpenDatabase): Promise<unknown> {
  const triggers = await sql`select tgrelid::regclass::text as table, tgname as name, tgenabled as enabled
    from pg_trigger where not tgisinternal order by 1, 2`.execute(db);
  const constraints = await sql`select conrelid::regclass::text as table, conname as name,
    pg_get_constraintdef(oid) as definition, convalidated as validated from pg_constraint
    where connamespace = 'public'::regnamespace and contype <> 'n' order by 1, 2`.execute(db);
  const indexes = await sql`select indexdef from pg_indexes where schemaname = 'public' order by 1`.execute(
    db,
  );
  return { triggers: triggers.rows, constraints: constraints.rows, indexes: indexes.rows };
}
