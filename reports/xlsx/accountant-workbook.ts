import writeXlsxFile from 'write-excel-file/node';
import type { Cell, SheetData } from 'write-excel-file/node';
import type { AccountantReport } from '../model/accountant-report.ts';
import type { AccountantCellKind, AccountantTable } from '../model/accountant-table.ts';

const FORMATS = { money: '#,##0.00', whole: '0' } as const;
const WIDTHS: Record<AccountantCellKind, number> = { text: 18, date: 12, money: 15, figure: 12, whole: 9 };
/** Columns whose words are long. */
const WIDE = new Set([
  'description',
  'check',
  'remark',
  'about',
  'account_name',
  'where',
  'meaning',
  'record',
]);
const HEADER = { fontWeight: 'bold', backgroundColor: '#E7E2D8', wrap: true } as const;

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
function cellOf(text: string | null, kind: AccountantCellKind): Cell {
  if (text === null || text === '') return null;
  if (kind === 'text') return words(text);
  if (kind === 'date') {
    const day = new Date(`${text}T00:00:00Z`);
    if (Number.isNaN(day.getTime())) throw new Error(`"${text}" is not a day.`);
    return { type: Date, value: day, format: 'yyyy-mm-dd' };
  }
  const value = Number(text);
  if (!Number.isFinite(value)) throw new Error(`"${text}" is not a number.`);
  return kind === 'figure' ? { type: Number, value } : { type: Number, value, format: FORMATS[kind] };
}

function tableSheet(table: AccountantTable): SheetData {
  return [
    table.columns.map(({ key }) => words(key, HEADER)),
    ...table.rows.map((row) => table.columns.map(({ kind }, at) => cellOf(row[at] ?? null, kind))),
  ];
}

const plain = (text: string): Cell => words(text, { wrap: true, alignVertical: 'top' });

function readMe({ title, demoNotice, about, tables }: AccountantReport): SheetData {
  return [
    [words(title, { fontWeight: 'bold', fontSize: 14 })],
    ...(demoNotice === null ? [] : [[words(demoNotice, { fontWeight: 'bold' })]]),
    ...about.map((sentence) => [plain(sentence)]),
    [null],
    ...tables.flatMap((table): SheetData => [
      [words(table.name, { fontWeight: 'bold' })],
      [plain(table.about)],
      ...table.columns.map(({ key, meaning }): Cell[] => [plain(`${key}: ${meaning}`)]),
      [null],
    ]),
  ];
}

/**
 * The accountant's tables as an Office Open XML workbook (ISO/IEC 29500): a sheet that explains all others, then one
 * sheet a table with its header frozen. Amounts are numbers and days are days, as values. The name of a sheet says
 * where the mill is invented.
 */
export async function accountantWorkbook(report: AccountantReport): Promise<Uint8Array> {
  const sheets = [
    {
      sheet: report.demoNotice === null ? 'Read me' : 'Read me (invented)',
      data: readMe(report),
      columns: [{ width: 110 }],
    },
    ...report.tables.map((table) => ({
      sheet: table.name,
      data: tableSheet(table),
      stickyRowsCount: 1,
      columns: table.columns.map(({ key, kind }) => ({ width: WIDE.has(key) ? 44 : WIDTHS[kind] })),
      orientation: 'landscape' as const,
    })),
  ];
  return new Uint8Array(await writeXlsxFile(sheets).toBuffer());
}
