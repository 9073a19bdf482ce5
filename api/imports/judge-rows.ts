import { textCell } from './cells.ts';
import type { FileKind, Shown } from './file-kind.ts';
import type { ProblemList } from './problem-list.ts';
import type { UnderstoodRow } from './understand-file.ts';
import {
  SHOWN_IMPORT_ROWS,
  type ImportPreview,
  type ImportRow,
  type ImportRowState,
} from '../schemas/import.ts';

/** What the books say already of the record in a row, or of what it belongs to. */
export interface Recorded {
  /** What it is, as a sentence begins: `Lot L-7`. */
  title: string;
  values: Shown;
  /** False when the record itself is not there yet, only what it belongs to. */
  isThere: boolean;
  /** The columns to compare; without them, all that the row says something in. */
  compared?: readonly string[];
}

export interface Judge<Row> {
  counts: ImportPreview['counts'];
  /** The first rows, as they were understood. */
  shownRows: ImportRow[];
  /** Judges rows that follow those before them; gives those that are new. */
  judge: (rows: readonly UnderstoodRow<Row>[], recordedOf: (entry: Row) => Recorded | null) => Row[];
}

/**
 * Holds every understood row against the others and against what is recorded: a row is new, unchanged, in
 * conflict (the same key with other values) or faulty. What a row leaves empty contradicts nothing. Of the rows that
 * it has seen it keeps the keys alone.
 */
export function judgeOf<Row>({
  kind,
  columns,
  problems,
}: {
  kind: FileKind<Row>;
  columns: string[];
  problems: ProblemList;
}): Judge<Row> {
  const counts = { rows: 0, new: 0, unchanged: 0, conflict: 0, faulty: 0 };
  const shownRows: ImportRow[] = [];
  const rowOfKey = new Map<string, number>();

  const stateOf = (
    { row, stated, cells, entry }: UnderstoodRow<Row>,
    recordedOf: (entry: Row) => Recorded | null,
  ): ImportRowState => {
    if (entry === null) return 'faulty';
    const key = kind.keyOf(entry);
    const before = rowOfKey.get(key);
    if (before !== undefined) {
      problems.add(row, null, null, () => `${kind.titleOf(entry)} is already in row ${before} of this file.`);
      return 'faulty';
    }
    rowOfKey.set(key, row);
    const recorded = recordedOf(entry);
    if (recorded === null) return 'new';
    const differing = differences(kind.shown(entry), stated, recorded);
    for (const column of differing)
      problems.add(row, column, cells.get(column) ?? '', () => conflict(recorded, column));
    if (differing.length > 0) return 'conflict';
    return recorded.isThere ? 'unchanged' : 'new';
  };

  return {
    counts,
    shownRows,
    judge: (rows, recordedOf) =>
      rows.flatMap((row) => {
        const state = stateOf(row, recordedOf);
        counts.rows += 1;
        counts[state] += 1;
        if (shownRows.length < SHOWN_IMPORT_ROWS)
          shownRows.push({ row: row.row, state, values: shownValues(row, columns, kind) });
        return state === 'new' && row.entry !== null ? [row.entry] : [];
      }),
  };
}

function differences(given: Shown, stated: string[], { values, compared }: Recorded): string[] {
  const said = compared === undefined ? stated : stated.filter((column) => compared.includes(column));
  return said.filter((column) => textCell(given[column] ?? '') !== textCell(values[column] ?? ''));
}

function conflict({ title, values }: Recorded, column: string): string {
  const value = values[column] ?? '';
  const instead = value === '' ? 'without a value here' : `with ${value} here`;
  return `${title} is already recorded ${instead}. An import changes no record: change it by hand, or mend the file.`;
}

function shownValues<Row>(
  { entry, cells }: UnderstoodRow<Row>,
  columns: string[],
  kind: FileKind<Row>,
): ImportRow['values'] {
  const values = entry === null ? Object.fromEntries(cells) : kind.shown(entry);
  return Object.fromEntries(columns.map((column) => [column, values[column] ?? '']));
}
