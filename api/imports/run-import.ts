import { createHash } from 'node:crypto';
import type { Kysely } from 'kysely';
import type { Books, ImportJob } from './job.ts';
import { judgeRows } from './judge-rows.ts';
import { dayJob, lotJob, quotationJob, testSmeltJob } from './jobs.ts';
import { understandFile, type Understanding, type Watch } from './understand-file.ts';
import type { ImportedFile, ImportKind, ImportPreview } from '../schemas/import.ts';
import { findImportOf, insertImportedFile, waitForOtherImports } from '../../db/queries/imports.ts';
import { inTransaction } from '../../db/queries/in-transaction.ts';
import { findMill } from '../../db/queries/mill.ts';
import type { Database } from '../../db/schema.ts';

export interface FileToImport {
  kind: ImportKind;
  fileName: string;
  bytes: Uint8Array;
}

/** The file cannot go into the books as it is: nothing was written. */
export class ImportRefused extends Error {
  readonly preview: ImportPreview;
  constructor(preview: ImportPreview) {
    super('the file cannot be imported as it is');
    this.preview = preview;
  }
}

/** Reads a file and says what importing it would do. */
export async function previewImport(
  db: Kysely<Database>,
  file: FileToImport,
  watch: Watch,
): Promise<ImportPreview> {
  return withJob(db, file.kind, async (job) => {
    const understanding = await understandFile({
      ...file,
      kind: job.kind,
      settings: await findMill(db),
      watch,
    });
    const books = await job.books(db, entriesOf(understanding));
    return (await judge({ db, file, job, books, understanding })).preview;
  });
}

/**
 * Adds a file's new rows to the books, all of them or, when anything is wrong with the file, none: then it
 * throws ImportRefused with what the preview says.
 */
export async function runImport(
  db: Kysely<Database>,
  file: FileToImport,
  watch: Watch,
): Promise<ImportedFile> {
  return withJob(db, file.kind, async (job) => {
    const understanding = await understandFile({
      ...file,
      kind: job.kind,
      settings: await findMill(db),
      watch,
    });
    return inTransaction(db, async (trx) => {
      await waitForOtherImports(trx);
      const books = await job.books(trx, entriesOf(understanding));
      const { preview, newEntries } = await judge({ db: trx, file, job, books, understanding });
      if (preview.problemCount > 0) throw new ImportRefused(preview);
      let done = 0;
      await books.write(newEntries, (rows) => {
        watch.signal.throwIfAborted();
        done += rows;
        watch.report({ done, of: newEntries.length, step: 'writing' });
      });
      return insertImportedFile(trx, {
        kind: file.kind,
        fileName: file.fileName,
        sha256: fingerprint(file.bytes),
        rowsAdded: newEntries.length,
        rowsUnchanged: preview.counts.unchanged,
      });
    });
  });
}

async function withJob<T>(
  db: Kysely<Database>,
  kind: ImportKind,
  work: <Row>(job: ImportJob<Row>) => Promise<T>,
): Promise<T> {
  switch (kind) {
    case 'lots':
      return work(await lotJob(db));
    case 'test-smelts':
      return work(await testSmeltJob(db));
    case 'quotations':
      return work(quotationJob);
    case 'days':
      return work(await dayJob(db));
  }
}

function entriesOf<Row>({ rows }: Understanding<Row>): Row[] {
  return rows.flatMap(({ entry }) => (entry === null ? [] : [entry]));
}

async function judge<Row>({
  db,
  file,
  job: { kind },
  books,
  understanding,
}: {
  db: Kysely<Database>;
  file: FileToImport;
  job: ImportJob<Row>;
  books: Books<Row>;
  understanding: Understanding<Row>;
}): Promise<{ preview: ImportPreview; newEntries: Row[] }> {
  const { counts, shownRows, newEntries } = judgeRows({ understanding, kind, recordedOf: books.recordedOf });
  const before = await findImportOf(db, { kind: file.kind, sha256: fingerprint(file.bytes) });
  const preview: ImportPreview = {
    kind: file.kind,
    fileName: file.fileName,
    separator: understanding.separator,
    columns: understanding.columns,
    counts,
    rows: shownRows,
    problems: understanding.problems.listed.toSorted((a, b) => a.row - b.row),
    problemCount: understanding.problems.count(),
    notes: [
      ...books.notes(newEntries),
      ...(before === undefined
        ? []
        : [`The same file was imported on ${before.importedAt.slice(0, 10)} as ${before.fileName}.`]),
    ],
  };
  return { preview, newEntries };
}

function fingerprint(bytes: Uint8Array): string {
  return createHash('sha256').update(bytes).digest('hex');
}
