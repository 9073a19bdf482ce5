import type { Kysely } from 'kysely';
import type { FileKind } from './file-kind.ts';
import type { Recorded } from './judge-rows.ts';
import type { Database } from '../../db/schema.ts';

/** A kind of file with the books that its rows go into. */
export interface ImportJob<Row> {
  kind: FileKind<Row>;
  /** The tables that the judgement of a row rests on, as the audit names them. */
  restsOn: readonly string[];
  /** Looks up in bulk what is recorded of these rows. */
  recorded: (db: Kysely<Database>, entries: readonly Row[]) => Promise<(entry: Row) => Recorded | null>;
  /** What writing rows does beside adding them, as sentences; told of every new row before. */
  noteNew?: (newEntries: readonly Row[]) => void;
  notes: () => string[];
  /** Writes rows that were staged, piece by piece, in the order in which they were; may ask for them more than once. */
  write: (trx: Kysely<Database>, staged: Staged<Row>, onWritten: (rows: number) => void) => Promise<void>;
}

/** The new rows of one import, kept in the database until all are known. */
export interface Staged<Row> {
  importId: string;
  count: number;
  /** So many rows at a time, in order. */
  pieces: (size: number) => AsyncIterable<Row[]>;
}
