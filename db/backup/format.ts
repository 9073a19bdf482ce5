/**
 * A backup is one gzip file (RFC 1952) of lines of JSON: a header, then for each table of the header its rows, each an
 * array of texts in the order of its columns as PostgreSQL writes them, then a trailer.
 */
export const FORMAT_VERSION = 1;

/** A longer line is in no backup: whoever wrote it does not mean well. */
export const LONGEST_LINE_BYTES = 256 * 1024 * 1024;

export interface TableInBackup {
  name: string;
  columns: { name: string; type: string }[];
  rows: number;
}

export interface SequenceInBackup {
  name: string;
  lastValue: string;
  isCalled: boolean;
}

export interface BackupHeader {
  poursheetBackup: number;
  /** RFC 3339, UTC. */
  madeAt: string;
  engine: 'embedded' | 'server';
  postgres: string;
  migrations: string[];
  tables: TableInBackup[];
  sequences: SequenceInBackup[];
}

export interface BackupTrailer {
  /** Of everything before the trailer, unpacked (SHA-256, FIPS 180-4). */
  sha256: string;
  rows: number;
}

/** Thrown for a backup that cannot be made or brought back; the message is for the owner. */
export class BackupError extends Error {
  override name = 'BackupError';
}
