import writeXlsxFile from 'write-excel-file/node';
import type { Cell, SheetData } from 'write-excel-file/node';
import type { AccountantReport } from '../model/accountant-report.ts';
import type { AccountantCellKind, AccountantTable } from '../model/accountant-table.ts';
import { printedPages } from './printed-pages.ts';

const FORMATS = { money: '#,##0.00', whole: '0' } as const;
/** In signs, as a column is wide at least and at most; words that are longer run on or are read in the cell. */
const LEAST_WIDTH: Record<AccountantCellKind, number> = { text: 8, date: 11, money: 12, figure: 9, whole: 7 };
const MOST_WIDTH = 48;
/** Room for the button of the filter in a header. */
const BUTTON = 3;
/** Signs on a line of the first sheet, and its height in points. */
const LINE = { signs: 105, width: 96, heightPt: 15 };
/** Words stand away from the figures to their left. */
const WORDS = { align: 'left', indent: 1 } as const;
const HEADER = { fontWeight: 'bold', backgroundColor: '#E7E2D8' } as const;

/** What XML has no place for would break the whole file. */
// oxlint-disable-next-line no-control-regex
const NO_XML = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]/g;
/** A cell of words: text whatever it begins with, because its type says so. */
const words = (text: string, style: object = {}): Cell => ({
  type: String,
  value: text.replaceAll(NO_XML, ' '),
  ...style,
});

/** A figure or a day as itself, words as words; never a formula. */
function cellOf(text: string | null, kind: AccountantCellKind, style: object): Cell {
  if (text === null || text === '') return null;
  if (kind === 'text') return words(text, style);
  if (kind === 'date') {
    const day = new Date(`${text}T00:00:00Z`);
    if (Number.isNaN(day.getTime())) throw new Error(`"${text}" is not a day.`);
    return { type: Date, value: day, format: 'yyyy-mm-dd', align: 'left', ...style };
  }
  const value = Number(text);
  if (!Number.isFinite(value)) throw new Error(`"${text}" is not a number.`);
  return kind === 'figure' ? { type: Number, value } : { type: Number, value, format: FORMATS[kind] };
}

const isFigure = (kind: AccountantCellKind | undefined): boolean =>
  kind !== undefined && kind !== 'text' && kind !== 'date';

function tableSheet({ columns, rows }: AccountantTable): SheetData {
  // A style costs time in every cell, so that only words have one that stand right of figures.
  const styles = columns.map((_, at) => (isFigure(columns[at - 1]?.kind) ? WORDS : {}));
  return [
    columns.map(({ key, kind }, at) =>
      words(key, { ...HEADER, ...(isFigure(kind) ? { align: 'right' } : styles[at]) }),
    ),
    ...rows.map((row) => columns.map(({ kind }, at) => cellOf(row[at] ?? null, kind, styles[at] ?? {}))),
  ];
}

/** As wide as what stands in it, so that nothing is cut off; a column of the same words in all rows as its header. */
function widthOf({ columns, rows }: AccountantTable, at: number): number {
  const { key, kind } = columns[at] ?? { key: '', kind: 'text' };
  const lengths = rows.map((row) => lengthOf(row[at] ?? '', kind));
  const longest = key === 'notice' ? 0 : lengths.reduce((most, one) => Math.max(most, one), 0);
  return Math.min(MOST_WIDTH, Math.max(LEAST_WIDTH[kind], key.length + BUTTON, longest + 3));
}

/** With the commas between thousands that a format puts in. */
function lengthOf(text: string, kind: AccountantCellKind): number {
  return kind === 'money' ? text.length + Math.floor(Math.max(0, text.length - 4) / 3) : text.length;
}

/** A row of the first sheet, high enough for all of its words. */
const plain = (text: string): Cell[] => [
  words(text, {
    wrap: true,
    alignVertical: 'top',
    height: LINE.heightPt * Math.ceil(text.length / LINE.signs),
  }),
];

function readMe({ title, demoNotice, about, tables }: AccountantReport): SheetData {
  return [
    [words(title, { fontWeight: 'bold', fontSize: 14 })],
    ...(demoNotice === null ? [] : [[words(demoNotice, { fontWeight: 'bold' })]]),
    ...about.map(plain),
    [null],
    ...tables.flatMap((table): SheetData => [
      [words(table.name, { fontWeight: 'bold' })],
      plain(table.about),
      ...table.columns.map(({ key, meaning }) => plain(`${key}: ${meaning}`)),
      [null],
    ]),
  ];
}

/**
 * The accountant's tables as an Office Open XML workbook (ISO/IEC 29500): a sheet that explains all others, then one
 * sheet a table with its header frozen, its filter on, and its columns as wide as their words, to be printed as wide as a
 * page. Amounts are numbers and days are days, as values. The name of a sheet says
 * where the mill is invented.
 */
export async function accountantWorkbook(report: AccountantReport): Promise<Uint8Array> {
  const first = report.demoNotice === null ? 'Read me' : 'Read me (invented)';
  const sheets = [
    {
      sheet: first,
      data: readMe(report),
      columns: [{ width: LINE.width }],
      orientation: 'landscape' as const,
    },
    ...report.tables.map((table) => ({
      sheet: table.name,
      data: tableSheet(table),
      stickyRowsCount: 1,
      columns: table.columns.map((_, at) => ({ width: widthOf(table, at) })),
      orientation: 'landscape' as const,
    })),
  ];
  const pages = printedPages({
    head: report.demoNotice ?? report.title,
    tables: report.tables.map(({ name, columns, rows }) => ({
      name,
      columns: columns.length,
      rows: rows.length,
    })),
  });
  return new Uint8Array(
    await writeXlsxFile(sheets, { features: [pages], fontFamily: 'Calibri', fontSize: 11 }).toBuffer(),
  );
}
