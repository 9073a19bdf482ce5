import { parse } from 'csv-parse/sync';
import { describe, expect, it } from 'vitest';
import { accountantReadMe, accountantTableCsv } from '../../../reports/csv/accountant-tables.ts';
import type { AccountantReport } from '../../../reports/model/accountant-report.ts';
import { accountantTable } from '../../../reports/model/accountant-table.ts';
import { accountantWorkbook } from '../../../reports/xlsx/accountant-workbook.ts';
import { readWorkbook } from '../../support/workbook-reader.ts';
import { filesInZip } from '../../support/zip-reader.ts';

const NAMES = ['=1+1', '+cmd', '-2', '@SUM(A1)', "'=1", '<b>&"', 'Ærø\u0001', '\t=1'];
const table = accountantTable<{ name: string; amount: string; on: string | null }>(
  { name: 'Lots', file: 'lots', about: 'Invented lots.' },
  [
    ['name', 'text', 'Name', ({ name }) => name],
    ['on', 'date', 'Day', ({ on }) => on],
    ['amount', 'money', 'Amount', ({ amount }) => amount],
    ['empty', 'money', 'Nothing', () => null],
    ['count', 'whole', 'Count', () => '3'],
    ['quantity', 'figure', 'Quantity', () => '0.000125'],
  ],
  NAMES.map((name, at) => ({
    name,
    amount: `${at % 2 === 0 ? '' : '-'}${at}234.50`,
    on: at === 1 ? null : '2026-02-28',
  })),
);
const report: AccountantReport = {
  title: 'Invented mill',
  demoNotice: 'All of this is invented.',
  about: ['How it was made.'],
  tables: [table],
};

describe('the accountant’s tables as a workbook', () => {
  it('hold numbers as numbers, days as days and words as words, never a formula', async () => {
    const sheets = readWorkbook(await accountantWorkbook(report));
    expect([...sheets.keys()]).toEqual(['Read me (invented)', 'Lots']);
    const [header, ...rows] = sheets.get('Lots') ?? [];
    expect(header?.map((cell) => cell?.value)).toEqual(table.columns.map(({ key }) => key));
    expect(rows.map(([name]) => name?.type)).toEqual(NAMES.map(() => 'text'));
    expect(rows.map(([name]) => name?.value)).toEqual(NAMES.map((name) => name.replace('\u0001', ' ')));
    expect(rows.map((row) => row[1])).toEqual(
      NAMES.map((_, at) => (at === 1 ? null : { type: 'day', value: '2026-02-28' })),
    );
    expect(rows.map((row) => Number(row[2]?.value).toFixed(2))).toEqual(
      table.rows.map((row) => Number(row[2]).toFixed(2)),
    );
    expect(rows[0]?.slice(3)).toEqual([
      null,
      { type: 'number', value: '3' },
      { type: 'number', value: '0.000125' },
    ]);
    const text = (sheets.get('Read me (invented)') ?? []).flat().map((cell) => cell?.value);
    expect(text).toEqual(
      expect.arrayContaining(['All of this is invented.', 'How it was made.', 'amount: Amount']),
    );
  });

  it('are printed as wide as a page with their header on each, filtered by column, and wide enough to be read', async () => {
    const parts = new Map(
      filesInZip(Buffer.from(await accountantWorkbook(report))).map(({ name, bytes }) => [
        name,
        bytes.toString(),
      ]),
    );
    const sheet = parts.get('xl/worksheets/sheet2.xml') ?? '';
    // In the order of ISO/IEC 29500-1, 18.3.1.99, without which a workbook counts as damaged.
    const order = [
      '<sheetPr>',
      '<sheetViews>',
      '<cols>',
      '<sheetData>',
      '<autoFilter ',
      '<pageMargins ',
      '<pageSetup ',
      '<headerFooter>',
    ];
    expect(order.map((tag) => sheet.indexOf(tag))).toEqual(
      order.map((tag) => sheet.indexOf(tag)).toSorted((a, b) => a - b),
    );
    expect(order.filter((tag) => !sheet.includes(tag))).toEqual([]);
    expect(sheet).toContain(`<autoFilter ref="A1:F${NAMES.length + 1}"/>`);
    expect(sheet).toContain('fitToPage="1"');
    expect(sheet).toContain('&amp;LAll of this is invented.');
    expect(parts.get('xl/workbook.xml')).toContain(`localSheetId="1">'Lots'!$1:$1</definedName>`);
    const widths = Array.from(sheet.matchAll(/<col min="\d+" max="\d+" width="([\d.]+)"/g), ([, width]) =>
      Number(width),
    );
    expect(widths).toHaveLength(6);
    table.columns.forEach(({ key }, at) => expect(widths[at]).toBeGreaterThan(key.length));
  });

  it('refuses what is no number and no day instead of writing it as words', async () => {
    const broken = { ...report, tables: [{ ...table, rows: [['a', '2026-02-28', '1,5', null, '3', '1']] }] };
    await expect(accountantWorkbook(broken)).rejects.toThrow('"1,5" is not a number.');
    const noDay = { ...report, tables: [{ ...table, rows: [['a', '28.2.2026', '1.5', null, '3', '1']] }] };
    await expect(accountantWorkbook(noDay)).rejects.toThrow('is not a day');
    expect(() => accountantTableCsv(broken.tables[0] ?? table)).toThrow('1,5');
  });
});

describe('the accountant’s tables as files', () => {
  it('say the same, harmless in a spreadsheet', () => {
    const csv = accountantTableCsv(table);
    expect(csv.startsWith('\ufeffname,on,amount,empty,count,quantity\r\n')).toBe(true);
    const rows: string[][] = parse(csv, { bom: true, from: 2 });
    expect(rows.map(([name]) => name?.charAt(0))).toEqual(["'", "'", "'", "'", "'", '<', 'Æ', "'"]);
    expect(rows.map((row) => row[2])).toEqual(table.rows.map((row) => row[2]));
  });

  it('come with a list of their columns', () => {
    const text = accountantReadMe(report);
    for (const words of ['csv/lots.csv', '  amount: Amount', 'All of this is invented.', 'How it was made.'])
      expect(text).toContain(words);
  });
});
