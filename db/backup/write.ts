import { createHash } from 'node:crypto';
import { createWriteStream, renameSync, rmSync, statSync } from 'node:fs';
import { dirname } from 'node:path';
import { promises as streams } from 'node:stream';
import { createGzip } from 'node:zlib';
import { sql, type Kysely } from 'kysely';
import { syncPath } from '../engine/durable-file-system.ts';
import type { OpenDatabase } from '../open.ts';
import type { Database } from '../schema.ts';
import { BackupError, FORMAT_VERSION, type BackupHeader, type BackupTrailer } from './format.ts';
import { keyOf, quoted, sequencesOf, tablesOf, writeExactly } from './tables.ts';

/** So many rows are in memory at once. */
const ROWS_AT_ONCE = 200;
/** Lines are handed on in pieces of about this many characters. */
const PIECE = 64 * 1024;

export interface WrittenBackup {
  sizeBytes: number;
  rows: number;
}

/**
 * Writes all that is in the database to one file, as it was at one moment, while others go on working. The file has
 * its name only once it is whole and on the disk.
 */
export async function writeBackup(
  { db, engine }: Pick<OpenDatabase, 'db' | 'engine'>,
  { path, madeAt }: { path: string; madeAt: Date },
): Promise<WrittenBackup> {
  const making = `${path}.making-${process.pid}`;
  let rows = 0;
  try {
    await db
      .transaction()
      .setIsolationLevel('repeatable read')
      .setAccessMode('read only')
      .execute(async (trx) => {
        const header = await headerOf(trx, engine, madeAt);
        rows = header.tables.reduce((sum, table) => sum + table.rows, 0);
        // What anybody may do with the file is for its owner to say: it holds all of the books.
        const file = createWriteStream(making, { mode: 0o600 });
        await streams.pipeline(piecesOf(trx, header), createGzip({ level: 6 }), file);
      });
    syncPath(making);
    renameSync(making, path);
    syncPath(dirname(path));
  } catch (error) {
    rmSync(making, { force: true });
    throw error;
  }
  return { sizeBytes: statSync(path).size, rows };
}

async function headerOf(
  trx: Kysely<Database>,
  engine: 'embedded' | 'server',
  madeAt: Date,
): Promise<BackupHeader> {
  await writeExactly(trx);
  const found = await tablesOf(trx);
  if (!found.some(({ name }) => name === 'kysely_migration'))
    throw new BackupError('There are no books in this database yet: there is nothing to back up.');
  const tables: BackupHeader['tables'] = [];
  for (const table of found) {
    const { rows } = await sql<{
      count: string;
    }>`select count(*) as count from ${sql.id(table.name)}`.execute(trx);
    tables.push({ ...table, rows: Number(rows[0]?.count) });
  }
  const migrations = await sql<{ name: string }>`select name from kysely_migration order by name`.execute(
    trx,
  );
  const version = await sql<{ version: string }>`select current_setting('server_version') as version`.execute(
    trx,
  );
  return {
    poursheetBackup: FORMAT_VERSION,
    madeAt: madeAt.toISOString(),
    engine,
    postgres: version.rows[0]?.version ?? '',
    migrations: migrations.rows.map(({ name }) => name),
    tables,
    sequences: await sequencesOf(trx),
  };
}

async function* piecesOf(trx: Kysely<Database>, header: BackupHeader): AsyncGenerator<string> {
  const hash = createHash('sha256');
  let rows = 0;
  const first = `${JSON.stringify(header)}\n`;
  hash.update(first);
  yield first;
  for (const table of header.tables) {
    let piece = '';
    for await (const line of linesOf(trx, table)) {
      rows += 1;
      piece += `${line}\n`;
      if (piece.length < PIECE) continue;
      hash.update(piece);
      yield piece;
      piece = '';
    }
    hash.update(piece);
    yield piece;
  }
  const trailer: BackupTrailer = { sha256: hash.digest('hex'), rows };
  yield `${JSON.stringify(trailer)}\n`;
}

async function* linesOf(
  trx: Kysely<Database>,
  { name, columns }: BackupHeader['tables'][number],
): AsyncGenerator<string> {
  const values = columns.map((column) => `${quoted(column.name)}::text`).join(', ');
  const key = (await keyOf(trx, name)).map(quoted).join(', ');
  await sql
    .raw(
      `declare backup_rows no scroll cursor for select json_build_array(${values})::text as line
       from ${quoted(name)}${key === '' ? '' : ` order by ${key}`}`,
    )
    .execute(trx);
  for (;;) {
    const { rows } = await sql<{ line: string }>`fetch ${sql.lit(ROWS_AT_ONCE)} from backup_rows`.execute(
      trx,
    );
    for (const { line } of rows) yield line;
    if (rows.length < ROWS_AT_ONCE) break;
  }
  await sql`close backup_rows`.execute(trx);
}
