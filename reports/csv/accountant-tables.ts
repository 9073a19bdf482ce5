import type { AccountantReport } from '../model/accountant-report.ts';
import type { AccountantTable } from '../model/accountant-table.ts';
import { figureCell, safeText, writeCsv } from './write-csv.ts';

/** A table as a file: its columns at the head, plain decimals and ISO dates, and no words that a spreadsheet runs. */
export function accountantTableCsv({ columns, rows }: AccountantTable): string {
  return writeCsv({
    header: columns.map(({ key }) => key),
    rows: rows.map((row) =>
      columns.map(({ kind }, at) => {
        const text = row[at] ?? '';
        return text === '' ? '' : kind === 'text' || kind === 'date' ? safeText(text) : figureCell(text);
      }),
    ),
    byteOrderMark: true,
  });
}

/** What the package is and what stands in every column, as plain text. */
export function accountantReadMe({ title, demoNotice, about, tables }: AccountantReport): string {
  const lines = [
    title,
    ...(demoNotice === null ? [] : [demoNotice]),
    '',
    ...about.flatMap((sentence) => [sentence, '']),
    'accountant.xlsx holds all tables; csv/ the same, one file a table; statements/ the PDFs of the statements.',
    '',
    ...tables.flatMap(({ file, about: tableAbout, columns }) => [
      `csv/${file}.csv`,
      tableAbout,
      ...columns.map(({ key, meaning }) => `  ${key}: ${meaning}`),
      '',
    ]),
  ];
  return lines.join('\r\n');
}
