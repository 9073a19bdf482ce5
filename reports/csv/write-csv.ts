import { stringify } from 'csv-stringify/sync';

/** Begins a cell that a spreadsheet may take for a formula, in plain or full width, also behind blanks. */
const MAY_BE_EXECUTED = /^\s*[=+\-@\uff1d\uff0b\uff0d\uff20]|^[\t\r\n]/;

/**
 * A cell of words that no spreadsheet executes: one that begins with = + - @,
 * a tab or a line end is led by an apostrophe, as OWASP's note on CSV
 * injection advises. Never used on figures, whose minus sign must stay first.
 */
export function safeText(text: string): string {
  return MAY_BE_EXECUTED.test(text) ? `'${text}` : text;
}

/** A figure as a plain decimal text; anything else is an error, because it would pass unguarded. */
export function figureCell(value: string): string {
  if (!/^-?\d+(\.\d+)?$/.test(value)) throw new Error(`"${value}" is not a plain decimal number.`);
  return value;
}

/**
 * Comma-separated values by RFC 4180: a header row, CR LF line ends, quotes
 * where needed. `byteOrderMark` makes spreadsheets read the file as UTF-8.
 */
export function writeCsv(args: { header: string[]; rows: string[][]; byteOrderMark: boolean }): string {
  return stringify([args.header, ...args.rows], {
    bom: args.byteOrderMark,
    record_delimiter: 'windows',
    quote_record_delimiter: true,
  });
}
