import { setImmediate as turn } from 'node:timers/promises';
import { nameCell, type FileSettings } from './cells.ts';
import { csvRecords, type CsvRecord } from './csv-records.ts';
import { encodingFault } from './encoding.ts';
import type { FileKind } from './file-kind.ts';
import { fileStart, type Separator } from './file-start.ts';
import { readHeader, type HeaderColumn } from './header.ts';
import { problemList, type ProblemList } from './problem-list.ts';
import { rowReader } from './row-reader.ts';
import { Problem } from '../problem.ts';
import type { ImportProgress } from '../schemas/import.ts';

/** A row of the file; without an entry it is faulty. */
export interface UnderstoodRow<Row> {
  row: number;
  /** The columns that the row says something in. */
  stated: string[];
  cells: ReadonlyMap<string, string>;
  entry: Row | null;
}

export interface Understanding<Row> {
  separator: Separator;
  columns: string[];
  rows: UnderstoodRow<Row>[];
  problems: ProblemList;
}

/** Told of progress while others get their turn; stops the work once nobody waits for it. */
export interface Watch {
  report: (progress: ImportProgress) => void;
  signal: AbortSignal;
}

const ROWS_A_TURN = 1000;

/**
 * Reads a file and understands its rows, one by one, without knowing what is recorded under their keys. Throws a
 * Problem when there is no table to be read in the file; all else that is wrong is among the problems.
 */
export async function understandFile<Row>({
  bytes,
  kind,
  settings,
  watch,
}: {
  bytes: Uint8Array;
  kind: FileKind<Row>;
  settings: FileSettings;
  watch: Watch;
}): Promise<Understanding<Row>> {
  const fault = encodingFault(bytes);
  if (fault !== null) throw new Problem('validation', fault);
  const start = fileStart(bytes);
  if (typeof start === 'string') throw new Problem('validation', start);

  const reading = await csvRecords({
    start,
    signal: watch.signal,
    onProgress: (done) => watch.report({ done, of: start.table.length, step: 'reading' }),
  });
  const problems = problemList();
  const [header, ...records] = reading.records;
  const understanding: Understanding<Row> = { separator: start.separator, columns: [], rows: [], problems };
  if (header !== undefined) {
    const { columns, readable } = readHeader({
      ...header,
      known: kind.columns,
      problems,
      whyUnknown: kind.whyUnknown,
    });
    understanding.columns = columns.filter((column) => column != null);
    if (readable)
      understanding.rows = await understandRows({
        records,
        header: { columns, separator: start.separator },
        kind,
        settings,
        problems,
        watch,
      });
    if (records.length === 0 && reading.fault === null)
      problems.add(header.row, null, null, () => 'There are no rows under the header.');
  }
  if (reading.fault !== null) {
    const { row, message } = reading.fault;
    problems.add(row, null, null, () => `${message} Reading stopped at this row.`);
  }
  return understanding;
}

async function understandRows<Row>({
  records,
  header: { columns, separator },
  kind,
  settings,
  problems,
  watch,
}: {
  records: CsvRecord[];
  header: { columns: HeaderColumn[]; separator: Separator };
  kind: FileKind<Row>;
  settings: FileSettings;
  problems: ProblemList;
  watch: Watch;
}): Promise<UnderstoodRow<Row>[]> {
  const rows: UnderstoodRow<Row>[] = [];
  const required = kind.columns.filter((column) => column.required).map(({ name }) => name);
  for (const { row, cells: all } of records) {
    const cells = new Map<string, string>();
    let stray: string | undefined;
    all.forEach((cell, at) => {
      const column = columns[at];
      if (column != null) cells.set(column, cell);
      else if (column === undefined && nameCell(cell) !== '') stray ??= cell;
    });
    if (stray !== undefined)
      problems.add(row, null, stray, () => strayCell(settings.decimalComma && separator === ','));

    const reader = rowReader({ row, cells, settings, problems });
    for (const column of required)
      if (reader.name(column) === '') reader.refuse(column, () => 'must not be empty');
    const entry = kind.understand(reader);
    rows.push({ row, stated: reader.stated, cells, entry: stray === undefined ? entry : null });
    if (rows.length % ROWS_A_TURN === 0) {
      watch.report({ done: rows.length, of: records.length, step: 'checking' });
      await turn();
      watch.signal.throwIfAborted();
    }
  }
  watch.report({ done: rows.length, of: records.length, step: 'checking' });
  return rows;
}

function strayCell(commaIsBoth: boolean): string {
  const hint = commaIsBoth
    ? ' Numbers with a decimal comma need quotes around them where commas separate the cells.'
    : '';
  return `The row has something in a column without a name in the header.${hint}`;
}
