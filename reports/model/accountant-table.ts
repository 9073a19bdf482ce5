/** What a cell of a column is; figures and dates are real ones in a workbook. */
export type AccountantCellKind = 'text' | 'date' | 'money' | 'figure' | 'whole';

export interface AccountantColumn {
  /** As it heads the column, in words of a file: `issued_on`. */
  key: string;
  kind: AccountantCellKind;
  /** What stands in it, for the list of columns. */
  meaning: string;
}

/** One sheet of the workbook and one file beside it. Cells are texts: plain decimals, ISO dates, words; null is empty. */
export interface AccountantTable {
  /** Name of the sheet, at most 31 letters. */
  name: string;
  /** Name of the file without its ending. */
  file: string;
  /** What the table is, in a sentence. */
  about: string;
  columns: AccountantColumn[];
  rows: (string | null)[][];
}

type Columns<Row> = readonly (readonly [
  key: string,
  kind: AccountantCellKind,
  meaning: string,
  cell: (row: Row) => string | null,
])[];

/** A table of rows by what stands in each of its columns. */
export function accountantTable<Row>(
  about: Pick<AccountantTable, 'name' | 'file' | 'about'>,
  columns: Columns<Row>,
  rows: readonly Row[],
): AccountantTable {
  return {
    ...about,
    columns: columns.map(([key, kind, meaning]) => ({ key, kind, meaning })),
    rows: rows.map((row) => columns.map(([, , , cell]) => cell(row))),
  };
}
