import { sql, type Kysely } from 'kysely';
import { migrateWithin, NewerDatabaseError, unknownMigrations } from '../migrate.ts';
import type { Database } from '../schema.ts';
import { BackupError, FORMAT_VERSION, type BackupHeader, type BackupTrailer } from './format.ts';
import { damaged, readLines, type BackupLine } from './read-lines.ts';
import { quoted, tablesOf, writeExactly } from './tables.ts';
import { whileUnwatched } from './unwatched.ts';

/** Rows are written in pieces of so many, or of about so many characters. */
const ROWS_AT_ONCE = 500;
const CHARACTERS_AT_ONCE = 1_000_000;

export interface Restored {
  madeAt: string;
  rows: number;
  tables: number;
  /** Migrations that were run after it, because the backup is of an older version. */
  applied: string[];
}

/**
 * Brings a backup back into an empty database: all of it, or nothing. The tables are made as they were when it was
 * made, filled as they were without anything being worked out or written to the audit, and then brought up to date.
 */
export async function restoreBackup(db: Kysely<Database>, path: string): Promise<Restored> {
  const lines = readLines(path);
  try {
    const header = headerFrom((await lines.next()).value as BackupLine | undefined);
    return await db.transaction().execute(async (trx) => {
      await requireEmpty(trx);
      await writeExactly(trx);
      await migrateWithin(trx, header.migrations.at(-1));
      await requireSameTables(trx, header);
      const rows = await whileUnwatched(trx, () => fill(trx, header, lines));
      const { applied } = await migrateWithin(trx);
      return { madeAt: header.madeAt, rows, tables: header.tables.length, applied };
    });
  } catch (error) {
    throw isOfTheContents(error) ? damaged('what is in it does not fit together', error) : error;
  } finally {
    await lines.return(undefined);
  }
}

/** A value that is none, or one that a check or a reference refuses (PostgreSQL, appendix "Error Codes", 22 and 23). */
function isOfTheContents(error: unknown): boolean {
  return /^2[23]/.test((error as { code?: string }).code ?? '');
}

function headerFrom(line: BackupLine | undefined): BackupHeader {
  const header = line === undefined ? undefined : parsed(line.text);
  const format = (header as Partial<BackupHeader> | undefined)?.poursheetBackup;
  if (typeof format !== 'number') throw new BackupError('This file is not a backup of Poursheet.');
  if (format > FORMAT_VERSION)
    throw new BackupError(
      `This backup was written by a newer version of Poursheet (format ${format}, this version reads up to ${FORMAT_VERSION}). Bring it back with that version.`,
    );
  const whole = header as BackupHeader;
  const unknown = unknownMigrations(whole.migrations);
  if (unknown.length > 0) throw new NewerDatabaseError(unknown);
  return whole;
}

async function requireEmpty(trx: Kysely<Database>): Promise<void> {
  const { rows } = await sql<{ name: string }>`select relname as name from pg_class
    where relnamespace = current_schema()::regnamespace limit 1`.execute(trx);
  if (rows.length > 0)
    throw new BackupError(
      'There are records here already. A backup is brought back into an empty place only: name a new directory with --data, or an empty database with --database.',
    );
}

async function requireSameTables(trx: Kysely<Database>, header: BackupHeader): Promise<void> {
  const asText = (tables: Omit<BackupHeader['tables'][number], 'rows'>[]): string =>
    JSON.stringify(
      tables.map(({ name, columns }) => [
        name,
        columns.map((one) => `${one.name} ${one.type}`).sort((a, b) => a.localeCompare(b)),
      ]),
    );
  if (asText(await tablesOf(trx)) !== asText(header.tables))
    throw damaged('its tables are not those of the version that it says it is of');
}

/** Fills the empty tables and sets the sequences; gives the number of rows. */
async function fill(
  trx: Kysely<Database>,
  header: BackupHeader,
  lines: AsyncGenerator<BackupLine>,
): Promise<number> {
  let rows = 0;
  for (const table of header.tables) {
    let piece: string[] = [];
    let characters = 0;
    const write = async (): Promise<void> => {
      if (piece.length > 0) await insert(trx, table, piece);
      [piece, characters] = [[], 0];
    };
    for (let row = 0; row < table.rows; row += 1) {
      const { text } = await next(lines);
      piece.push(text);
      characters += text.length;
      if (piece.length >= ROWS_AT_ONCE || characters >= CHARACTERS_AT_ONCE) await write();
    }
    await write();
    rows += table.rows;
  }
  const end = await next(lines);
  const trailer = parsed(end.text) as Partial<BackupTrailer> | undefined;
  if (trailer?.sha256 !== end.sha256Before() || trailer.rows !== rows)
    throw damaged('its contents are not those that were written');
  if ((await lines.next()).done !== true) throw damaged('something stands after its end');
  for (const { name, lastValue, isCalled } of header.sequences)
    await sql`select setval(${quoted(name)}::regclass, ${lastValue}::bigint, ${isCalled})`.execute(trx);
  return rows;
}

async function insert(
  trx: Kysely<Database>,
  { name, columns }: BackupHeader['tables'][number],
  piece: readonly string[],
): Promise<void> {
  const names = columns.map((column) => quoted(column.name)).join(', ');
  const values = columns.map(({ type }, place) => `(one ->> ${place})::${type}`).join(', ');
  const into = sql.raw(`insert into ${quoted(name)} (${names}) overriding system value select ${values}`);
  await sql`${into} from jsonb_array_elements(${`[${piece.join(',')}]`}::jsonb) with ordinality as part (one, place)
    order by place`.execute(trx);
}

async function next(lines: AsyncGenerator<BackupLine>): Promise<BackupLine> {
  const found = await lines.next();
  if (found.done === true) throw damaged('it ends before its last line');
  return found.value;
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined; // no line of a backup
  }
}
