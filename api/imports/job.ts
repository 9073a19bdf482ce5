import type { Kysely } from 'kysely';
import type { FileKind } from './file-kind.ts';
import type { Recorded } from './judge-rows.ts';
import type { Database } from '../../db/schema.ts';

/** A kind of file with the books that its rows go into. */
export interface ImportJob<Row> {
  kind: FileKind<Row>;
  /** Looks up in bulk what is recorded of these rows; with a transaction, writing goes through it too. */
  books: (db: Kysely<Database>, entries: readonly Row[]) => Promise<Books<Row>>;
}

export interface Books<Row> {
  recordedOf: (entry: Row) => Recorded | null;
  /** What writing these rows does beside adding them, as sentences. */
  notes: (newEntries: readonly Row[]) => string[];
  /** Writes new rows piece by piece; `onWritten` is told of each piece how many rows it was, and may throw. */
  write: (newEntries: readonly Row[], onWritten: (rows: number) => void) => Promise<void>;
}
