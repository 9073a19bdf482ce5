import { setImmediate as turn } from 'node:timers/promises';
import { nameCell, type FileSettings } from './cells.ts';
import { chunksOf } from './chunks.ts';
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

export interface Understanding {
  separator: Separator;
  columns: string[];
  rowCount: number;
  problems: ProblemList;
}

/** Takes understood rows as they come; the file is read on once it is done with them. */
export type OnRows<Row> = (
  rows: UnderstoodRow<Row>[],
  known: { columns: string[]; problems: ProblemList },
) => Promise<void>;

/** Told of progress while others get their turn; stops the work once nobody waits for it. */
export interface Watch {
  report: (progress: ImportProgress) => void;
  signal: AbortSignal;
}

const ROWS_A_TURN = 1000;

/**
 * Reads a file and understands its rows, a thousand at a time, without knowing what is recorded under their keys.
 * Throws a Problem when there is no table to be read in the file; all else that is wrong is among the problems.
 */
export async function understandFile<Row>({
  bytes,
  kind,
  settings,
  watch,
  onRows,
}: {
  bytes: Uint8Array;
  kind: FileKind<Row>;
  settings: FileSettings;
  watch: Watch;
  onRows: OnRows<Row>;
}): Promise<Understanding> {
  const fault = encodingFault(bytes);
  if (fault !== null) throw new Problem('validation', fault);
  const start = fileStart(bytes);
  if (typeof start === 'string') throw new Problem('validation', start);

  const problems = problemList();
  const understanding: Understanding = { separator: start.separator, columns: [], rowCount: 0, problems };
  let header: { row: number; columns: HeaderColumn[]; isReadable: boolean } | undefined;
  let recordCount = 0;
  const reading = await csvRecords({
    start,
    signal: watch.signal,
    onProgress: (done) => watch.report({ done, of: start.table.length, step: 'reading' }),
    onRecords: async (all) => {
      let records = all;
      if (header === undefined) {
        const [first, ...others] = all;
        if (first === undefined) return;
        const { columns, readable } = readHeader({
          ...first,
          known: kind.columns,
          problems,
          whyUnknown: kind.whyUnknown,
        });
        header = { row: first.row, columns, isReadable: readable };
        understanding.columns = columns.filter((column) => column != null);
        records = others;
      }
      recordCount += records.length;
      if (!header.isReadable) return;
      const { columns } = header;
      for (const chunk of chunksOf(records, ROWS_A_TURN)) {
        const rows = chunk.map((record) =>
          understandRow(record, { columns, separator: start.separator, kind, settings, problems }),
        );
        understanding.rowCount += rows.length;
        await onRows(rows, { columns: understanding.columns, problems });
        await turn();
        watch.signal.throwIfAborted();
      }
    },
  });
  if (header !== undefined && recordCount === 0 && reading.fault === null)
    problems.add(header.row, null, null, () => 'There are no rows under the header.');
  if (reading.fault !== null) {
    const { row, message } = reading.fault;
    problems.add(row, null, null, () => `${message} Reading stopped at this row.`);
  }
  return understanding;
}

function understandRow<Row>(
  { row, cells: all }: CsvRecord,
  {
    columns,
    separator,
    kind,
    settings,
    problems,
  }: {
    columns: HeaderColumn[];
    separator: Separator;
    kind: FileKind<Row>;
    settings: FileSettings;
    problems: ProblemList;
  },
): UnderstoodRow<Row> {
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
  for (const column of kind.columns)
    if (column.required && reader.name(column.name) === '')
      reader.refuse(column.name, () => 'must not be empty');
  const entry = kind.understand(reader);
  return { row, stated: reader.stated, cells, entry: stray === undefined ? entry : null };
}

function strayCell(commaIsBoth: boolean): string {
  const hint = commaIsBoth
    ? ' Numbers with a decimal comma need quotes around them where commas separate the cells.'
    : '';
  return `The row has something in a column without a name in the header.${hint}`;
}
