import { createHash } from 'node:crypto';
import type { Kysely } from 'kysely';
import type { ImportJob } from './job.ts';
import { judgeOf, type Judge } from './judge-rows.ts';
import { dayJob, lotJob, purchaseJob, quotationJob, testSmeltJob } from './jobs.ts';
import { understandFile, type Watch } from './understand-file.ts';
import { Problem } from '../problem.ts';
import type { ImportedFile, ImportKind, ImportPreview } from '../schemas/import.ts';
import { forgetDeadImports, forgetStagedRows, stagedRows, stageRows } from '../../db/queries/import-rows.ts';
import {
  findImportOf,
  insertImportedFile,
  isChangedSince,
  lastChange,
  waitForOtherImports,
} from '../../db/queries/imports.ts';
import { inTransaction } from '../../db/queries/in-transaction.ts';
import { findMill } from '../../db/queries/mill.ts';
import type { Database } from '../../db/schema.ts';

export interface FileToImport {
  kind: ImportKind;
  fileName: string;
  bytes: Uint8Array;
  /** The day on which it is imported. */
  today: string;
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
  return withJob(db, file, (job) => readFile({ db, file, job, watch, keep: () => Promise.resolve() }));
}

/**
 * Adds a file's new rows to the books, all of them or, when anything is wrong with the file, none: then it throws
 * ImportRefused with what the preview says. The rows are read and staged a thousand at a time, and others are answered
 * in between; only at the end one transaction moves them all.
 */
export async function runImport(
  db: Kysely<Database>,
  file: FileToImport,
  watch: Watch,
): Promise<ImportedFile> {
  await forgetDeadImports(db, { isAlone: false });
  for (let attempt = 0; attempt < MOST_ATTEMPTS; attempt += 1) {
    const imported = await tryImport(db, file, watch);
    if (imported !== null) return imported;
  }
  throw new Problem(
    'conflict',
    'Records were changed again and again while the file was read. Nothing was imported; import it again.',
  );
}

/** What a file was held against was changed by others in the meantime: then it is read once more, so often at most. */
const MOST_ATTEMPTS = 5;

async function tryImport(
  db: Kysely<Database>,
  file: FileToImport,
  watch: Watch,
): Promise<ImportedFile | null> {
  const importId = crypto.randomUUID();
  const known = await lastChange(db);
  try {
    return await withJob(db, file, async (job) => {
      let count = 0;
      const preview = await readFile({
        db,
        file,
        job,
        watch,
        keep: async (entries) => {
          await stageRows(db, { importId, place: count, entries });
          count += entries.length;
        },
      });
      if (preview.problemCount > 0) throw new ImportRefused(preview);
      return inTransaction(db, async (trx) => {
        await waitForOtherImports(trx);
        if (await isChangedSince(trx, known, job.restsOn)) return null;
        await writeStaged({ trx, job, importId, count, watch });
        return insertImportedFile(trx, {
          kind: file.kind,
          fileName: file.fileName,
          sha256: fingerprint(file.bytes),
          rowsAdded: count,
          rowsUnchanged: preview.counts.unchanged,
        });
      });
    });
  } finally {
    await forgetStagedRows(db, importId);
  }
}

async function writeStaged<Row>({
  trx,
  job,
  importId,
  count,
  watch,
}: {
  trx: Kysely<Database>;
  job: ImportJob<Row>;
  importId: string;
  count: number;
  watch: Watch;
}): Promise<void> {
  let done = 0;
  watch.report({ done, of: count, step: 'writing' });
  const pieces = (size: number): AsyncIterable<Row[]> => stagedRows<Row>(trx, importId, size);
  await job.write(trx, { importId, count, pieces }, (rows) => {
    watch.signal.throwIfAborted();
    done += rows;
    watch.report({ done, of: count, step: 'writing' });
  });
  // Books are never short of rows that were shown as new: an unlogged table can lose them in a crash of the server.
  if (done !== count) throw new Error(`Of ${count} staged rows ${done} were there.`);
}

async function withJob<T>(
  db: Kysely<Database>,
  { kind, today }: Pick<FileToImport, 'kind' | 'today'>,
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
    case 'purchases':
      return work(await purchaseJob(db, today));
  }
}

/** Reads a file and holds it against the books, a thousand rows at a time; `keep` is given those that are new. */
async function readFile<Row>({
  db,
  file,
  job,
  watch,
  keep,
}: {
  db: Kysely<Database>;
  file: FileToImport;
  job: ImportJob<Row>;
  watch: Watch;
  keep: (newEntries: Row[]) => Promise<void>;
}): Promise<ImportPreview> {
  const { kind } = job;
  let judge: Judge<Row> | undefined;
  const { separator, columns, problems } = await understandFile({
    bytes: file.bytes,
    kind,
    settings: await findMill(db),
    watch,
    onRows: async (rows, known) => {
      judge ??= judgeOf({ kind, ...known });
      const entries = rows.flatMap(({ entry }) => (entry === null ? [] : [entry]));
      const newEntries = judge.judge(rows, await job.recorded(db, entries));
      job.noteNew?.(newEntries);
      // Of a file with something wrong nothing goes into the books.
      if (known.problems.count() === 0) await keep(newEntries);
    },
  });
  const { counts, shownRows } = judge ?? judgeOf({ kind, columns, problems });
  const before = await findImportOf(db, { kind: file.kind, sha256: fingerprint(file.bytes) });
  return {
    kind: file.kind,
    fileName: file.fileName,
    separator,
    columns,
    counts,
    rows: shownRows,
    problems: problems.listed.toSorted((a, b) => a.row - b.row),
    problemCount: problems.count(),
    notes: [
      ...job.notes(),
      ...(before === undefined
        ? []
        : [`The same file was imported on ${before.importedAt.slice(0, 10)} as ${before.fileName}.`]),
    ],
  };
}

function fingerprint(bytes: Uint8Array): string {
  return createHash('sha256').update(bytes).digest('hex');
}
