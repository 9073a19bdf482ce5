import { spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parse } from 'csv-parse/sync';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { loadDemoSeason } from '../../api/demo/load-demo-season.ts';
import { Dec, sumOf } from '../../api/calc/money.ts';
import { ensureMill } from '../../db/queries/mill.ts';
import { DEMO_NOTICE } from '../../reports/model/demo-notice.ts';
import { describeOnEmbedded, describeOnEveryEngine, type OpenFresh } from '../support/engines.ts';
import { millApi, type MillApi } from '../support/mill.ts';
import { readWorkbook } from '../support/workbook-reader.ts';
import { filesInZip } from '../support/zip-reader.ts';

const SEASON = { from: '2026-05-01', to: '2026-12-31' };
type Rows = Record<string, string>[];

async function demoMill(open: OpenFresh): Promise<MillApi> {
  const { db } = await open();
  await ensureMill(db, 2026);
  await loadDemoSeason(db);
  return millApi(db, '2026-10-14');
}

async function fetched({ send }: MillApi, { from, to }: { from: string; to: string }) {
  const answer = await send('GET', `/accountant-package?from=${from}&to=${to}`);
  expect(answer.status, JSON.stringify(answer.body)).toBe(200);
  const files = new Map(
    filesInZip(Buffer.from(answer.body as Uint8Array)).map((one) => [one.name, one.bytes]),
  );
  expect(answer.headers.get('x-file-count')).toBe(String(files.size));
  const rows = (name: string): Rows =>
    parse(files.get(`csv/${name}.csv`) ?? Buffer.of(), { bom: true, columns: true });
  return { files, rows, names: [...files.keys()] };
}

const total = (rows: Rows, column: string): string =>
  sumOf(rows.map((row) => (row[column] === '' ? '0' : (row[column] ?? '0')))).toFixed(2);

describeOnEveryEngine('the accountant’s package of the demo season', (open) => {
  let mill: MillApi;
  let season: Awaited<ReturnType<typeof fetched>>;
  beforeAll(async () => {
    mill = await demoMill(open);
    season = await fetched(mill, SEASON);
  });

  it('holds a workbook, its tables, the statements and a list of columns, each marked as invented', async () => {
    expect(season.names.filter((name) => !name.startsWith('csv/'))).toEqual([
      'README.txt',
      'accountant.xlsx',
      'statements/S-0001-provisional.pdf',
      'statements/S-0002-final.pdf',
      'statements/S-0003-provisional.pdf',
    ]);
    expect(season.names.filter((name) => name.startsWith('csv/'))).toEqual(
      [
        'sales',
        'deductions',
        'royalties-and-taxes',
        'wages',
        'purchases',
        'inventories',
        'receivables',
        'payables',
        'journal',
        'trial-balance',
        'checks',
        'accounts',
      ].map((name) => `csv/${name}.csv`),
    );
    for (const [name, bytes] of season.files)
      if (/\.(txt|csv)$/.test(name)) expect(bytes.toString(), name).toContain(DEMO_NOTICE);
    const sheets = readWorkbook(season.files.get('accountant.xlsx') ?? Buffer.of());
    expect([...sheets.keys()][0]).toBe('Read me (invented)');
    expect(
      sheets
        .get('Read me (invented)')
        ?.flat()
        .map((cell) => cell?.value),
    ).toContain(DEMO_NOTICE);
    for (const [name, cells] of sheets)
      expect([name, cells.flat().some((cell) => cell?.value === DEMO_NOTICE)]).toEqual([name, true]);
  });

  it('ties every total: no check differs by a cent', () => {
    const checks = season.rows('checks');
    expect(checks.length).toBeGreaterThan(20);
    expect(checks.filter(({ difference }) => difference !== '0.00')).toEqual([]);
  });

  it('says of each statement what its print says, and balances entry by entry', async () => {
    const statements = await mill.enter('GET', '/statements');
    const issued = statements.filter(({ status }: { status: string }) => status === 'issued');
    const totals = Object.fromEntries(
      issued.map((one: { number: string; total: string }) => [one.number, new Dec(one.total).toFixed(2)]),
    );
    expect(Object.fromEntries(season.rows('sales').map((row) => [row['statement'], row['total']]))).toEqual(
      totals,
    );
    const journal = season.rows('journal');
    expect(total(journal, 'debit')).toBe(total(journal, 'credit'));
    for (const entry of new Set(journal.map((row) => row['entry']))) {
      const lines = journal.filter((row) => row['entry'] === entry);
      expect([entry, total(lines, 'debit')]).toEqual([entry, total(lines, 'credit')]);
    }
  });

  it('splits what the final statement changed as its print does', async () => {
    const statements = await mill.enter('GET', '/statements');
    const { id } = statements.find(({ number }: { number: string }) => number === 'S-0002');
    const document = JSON.stringify(await mill.enter('GET', `/statements/${id}/report`));
    const [row] = season.rows('sales').filter(({ statement }) => statement === 'S-0002');
    const [mass, assay, price] = ['mass', 'assay', 'price'].map((kind) => row?.[`${kind}_adjustment`] ?? '');
    // This contract charges nothing by the value of the metal, so the net value changes as the metal's does.
    for (const figure of [mass, assay, price])
      expect(document).toContain(new Dec(figure ?? '0').abs().toFixed(2));
  });

  it('has in the workbook what stands in the files, to the cent', () => {
    const sheets = readWorkbook(season.files.get('accountant.xlsx') ?? Buffer.of());
    for (const [name, cells] of [...sheets].slice(1)) {
      const file = name.toLowerCase().replaceAll(' ', '-');
      const [header = [], ...rows] = cells;
      const columns = header.map((cell) => cell?.value ?? '');
      const written = season.rows(file);
      expect([name, rows.length]).toEqual([name, written.length]);
      columns.forEach((column, at) => {
        const inSheet = rows.map((row) => row[at] ?? null);
        for (const [place, cell] of inSheet.entries()) {
          const text = written[place]?.[column] ?? '';
          if (cell === null) expect([name, column, text]).toEqual([name, column, '']);
          else if (cell.type === 'number') expect(Number(cell.value)).toBe(Number(text));
          else expect([cell.value, `'${cell.value}`]).toContain(text);
        }
      });
    }
  });

  it('opens a month as it closed the one before', async () => {
    const june = await fetched(mill, { from: '2026-06-01', to: '2026-06-30' });
    const july = await fetched(mill, { from: '2026-07-01', to: '2026-07-31' });
    const opening = new Map(july.rows('trial-balance').map((row) => [row['account'], row['opening']]));
    const balances = june
      .rows('trial-balance')
      .filter(({ group }) => group === 'Assets' || group === 'Liabilities');
    expect(balances.length).toBeGreaterThan(5);
    for (const { account, closing } of balances)
      expect([account, opening.get(account) ?? '0.00']).toEqual([account, closing]);
    for (const { rows } of [june, july])
      expect(rows('checks').filter(({ difference }) => difference !== '0.00')).toEqual([]);
  });

  it('stops with a sentence that names day and currency where a rate is missing, and takes it once it is there', async () => {
    const { enter, send } = mill;
    const expense = {
      spentOn: '2026-08-03',
      kind: 'repair',
      amount: '110.00',
      currency: 'EUR',
      paidOn: '2026-08-20',
    };
    await enter('POST', '/expenses', { ...expense, payee: '=1+1' });
    const refused = await send('GET', `/accountant-package?from=${SEASON.from}&to=${SEASON.to}`);
    expect([refused.status, refused.body.detail]).toEqual([
      422,
      expect.stringContaining('No exchange rate of EUR on or before 2026-08-03'),
    ]);
    await enter('PUT', '/exchange-rates', {
      currency: 'EUR',
      ratedOn: '2026-08-01',
      rate: '1.1',
      source: '',
    });
    await enter('PUT', '/exchange-rates', {
      currency: 'EUR',
      ratedOn: '2026-08-19',
      rate: '1.2',
      source: '',
    });
    const { rows, files } = await fetched(mill, SEASON);
    const [bought] = rows('purchases').filter(({ currency }) => currency === 'EUR');
    expect([bought?.['supplier'], bought?.['rate'], bought?.['amount_booked']]).toEqual([
      "'=1+1",
      '1.1',
      '121.00',
    ]);
    // 110 EUR at 1.2 less at 1.1: 11.00 lost.
    const paid = rows('journal').filter(
      ({ record }) => record?.startsWith('expense:') && record.endsWith(':paid'),
    );
    expect(
      paid
        .filter(({ document, description }) => document === '' && description?.includes('=1+1'))
        .map(({ account_name, debit, credit }) => [account_name, debit, credit]),
    ).toEqual([
      ['Due to suppliers', '121.00', ''],
      ['Cash and bank', '', '132.00'],
      ['Exchange differences', '11.00', ''],
    ]);
    expect(rows('checks').filter(({ difference }) => difference !== '0.00')).toEqual([]);
    const sheet = readWorkbook(files.get('accountant.xlsx') ?? Buffer.of()).get('Purchases');
    expect(sheet?.flat()).toContainEqual({ type: 'text', value: '=1+1' });
  });

  it('is what a link of the accountant leads to, for the whole season', async () => {
    const [{ id, startsOn, endsOn }] = await mill.enter('GET', '/seasons');
    const link = { what: 'accountant-package', seasonId: id, days: 1, remarks: '' };
    const { path } = await mill.enter('POST', '/download-links', link);
    const answer = await mill.send('GET', (path as string).replace(/^\/api/, ''));
    expect(answer.headers.get('content-disposition')).toContain(`accountant-${startsOn}-${endsOn}.zip`);
    const names = filesInZip(Buffer.from(answer.body as Uint8Array)).map(({ name }) => name);
    expect(names).toEqual(expect.arrayContaining(['README.txt', 'accountant.xlsx', 'csv/journal.csv']));
  });

  it('refuses a period that ends before it begins', async () => {
    const answer = await mill.send('GET', '/accountant-package?from=2026-07-01&to=2026-06-30');
    expect([answer.status, answer.body.errors[0].pointer]).toEqual([422, '/to']);
  });
});

describeOnEveryEngine('the accountant’s package of closed months', (open) => {
  const JUNE = { from: '2026-06-01', to: '2026-06-30' };
  const OCTOBER = { from: '2026-10-01', to: '2026-10-31' };
  const booked = (rows: Rows) =>
    rows.map((row) => ['record', 'on', 'account', 'debit', 'credit'].map((column) => row[column]));
  const faults = (rows: Rows): Rows => rows.filter(({ difference }) => difference !== '0.00');
  /** What a record has in a journal: account by account, debit less credit. */
  const ofRecord = (rows: Rows, column: string, value: string) =>
    rows
      .filter((row) => row[column] === value)
      .map((row) => [row['account_name'], new Dec(row['debit'] || 0).minus(row['credit'] || 0).toFixed(2)]);

  it('books what is changed later in the month in which it is changed, and leaves what was booked', async () => {
    const mill = await demoMill(open);
    const { enter } = mill;
    const expense = { spentOn: '2026-06-12', currency: 'USD', paidOn: '2026-06-12', payee: 'Invented' };
    const rent = await enter('POST', '/expenses', { ...expense, kind: 'rent', amount: '70.00' });
    const gone = await enter('POST', '/expenses', { ...expense, kind: 'fees', amount: '11.00' });
    const before = await fetched(mill, JUNE);
    for (;;) {
      const { months } = await enter('GET', '/months?year=2026');
      const next = months.findLast(
        ({ cannotCloseBecause, closed }: { cannotCloseBecause: string | null; closed: object | null }) =>
          closed === null && cannotCloseBecause === null,
      );
      if (next === undefined || next.month > '2026-06') break;
      await enter('POST', `/months/${next.month}/close`);
    }
    const closed = await fetched(mill, JUNE);
    expect(booked(closed.rows('journal'))).toEqual(booked(before.rows('journal')));

    await enter('PUT', `/expenses/${rent.id}`, { ...rent, amount: '95.50' });
    await mill.send('DELETE', `/expenses/${gone.id}`);
    const late = await enter('POST', '/expenses', {
      ...expense,
      kind: 'repair',
      amount: '8.00',
      paidOn: null,
    });
    const june = await fetched(mill, JUNE);
    expect(booked(june.rows('journal'))).toEqual(booked(before.rows('journal')));
    expect(faults(june.rows('checks'))).toEqual([]);
    // Open since June, booked in October.
    expect(june.rows('checks').map(({ check }) => check)).toContain(
      'Open: Due to suppliers, with -8.00 of corrections that are booked later',
    );

    const october = await fetched(mill, OCTOBER);
    const journal = october.rows('journal');
    expect(ofRecord(journal, 'corrects', `2026-06 expense:${rent.id}`)).toEqual([
      ['Rent', '25.50'],
      ['Due to suppliers', '-25.50'],
    ]);
    expect(ofRecord(journal, 'corrects', `2026-06 expense:${rent.id}:paid`)).toEqual([
      ['Due to suppliers', '25.50'],
      ['Cash and bank', '-25.50'],
    ]);
    expect(ofRecord(journal, 'corrects', `2026-06 expense:${gone.id}`)).toEqual([
      ['Fees', '-11.00'],
      ['Due to suppliers', '11.00'],
    ]);
    expect(ofRecord(journal, 'record', `correction:2026-10:expense:${late.id}`)).toEqual([
      ['Repairs', '8.00'],
      ['Due to suppliers', '-8.00'],
    ]);
    expect(faults(october.rows('checks'))).toEqual([]);
    // As the month's report shows it.
    const report = JSON.stringify(await enter('GET', '/months/2026-10/report'));
    for (const figure of ['25.50', '11.00', '8.00']) expect(report).toContain(figure);

    const season = await fetched(mill, SEASON);
    expect(faults(season.rows('checks'))).toEqual([]);
    expect(ofRecord(season.rows('journal'), 'record', `expense:${rent.id}`)[0]).toEqual(['Rent', '70.00']);

    // Changed back: nothing is left to correct.
    await enter('PUT', `/expenses/${rent.id}`, { ...rent, version: rent.version + 1 });
    const again = (await fetched(mill, OCTOBER)).rows('journal');
    expect(ofRecord(again, 'corrects', `2026-06 expense:${rent.id}`)).toEqual([]);
  });

  it('clears the wages that hours have accrued by what is paid of them, without costing them twice', async () => {
    const mill = await demoMill(open);
    const july = { from: '2026-07-01', to: '2026-07-31' };
    const before = await fetched(mill, july);
    const open1 = before.rows('wages').find(({ event }) => event === 'open at the end')?.['amount'] ?? '0';
    expect(Number(open1)).toBeGreaterThan(0);
    const wages = {
      spentOn: '2026-07-30',
      kind: 'wages-paid',
      amount: '150.00',
      currency: 'USD',
      paidOn: '2026-07-30',
    };
    const { id } = await mill.enter('POST', '/expenses', { ...wages, payee: 'Invented helper' });
    const after = await fetched(mill, july);
    expect(ofRecord(after.rows('journal'), 'record', `expense:${id}`)).toEqual([
      ['Wages due', '150.00'],
      ['Due to suppliers', '-150.00'],
    ]);
    expect(after.rows('wages').find(({ event }) => event === 'open at the end')?.['amount']).toBe(
      new Dec(open1).minus(150).toFixed(2),
    );
    const costs = (rows: Rows) =>
      total(
        rows.filter(({ group }) => group === 'Costs'),
        'closing',
      );
    expect(costs(after.rows('trial-balance'))).toBe(costs(before.rows('trial-balance')));
    expect(faults(after.rows('checks'))).toEqual([]);
    const paid = after
      .rows('checks')
      .find(({ check }) => check === 'Month 2026-07: royalties, taxes and wages paid');
    expect(paid?.['figure']).toBe('150.00');
  });
});

const office = spawnSync('soffice', ['--version'], { encoding: 'utf8' });
const missing = office.error !== undefined ? 'no LibreOffice on this machine' : null;
describeOnEmbedded('the workbook in LibreOffice', (open) => {
  const folder = mkdtempSync(join(tmpdir(), 'poursheet-office-'));
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  describe.skipIf(missing !== null)(missing ?? 'where it is installed', () => {
    it('opens, and reads back the totals that were written', async () => {
      const { files, rows } = await fetched(await demoMill(open), SEASON);
      writeFileSync(join(folder, 'accountant.xlsx'), files.get('accountant.xlsx') ?? Buffer.of());
      // All sheets as CSV: comma, quotes, UTF-8, every sheet (-1), cells as they are stored.
      const done = spawnSync(
        'soffice',
        [
          '--headless',
          `-env:UserInstallation=file://${folder}/profile`,
          '--convert-to',
          'csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,false,false,false,false,-1',
          '--outdir',
          folder,
          join(folder, 'accountant.xlsx'),
        ],
        { encoding: 'utf8', timeout: 120_000 },
      );
      expect(done.status, done.stderr).toBe(0);
      expect(readdirSync(folder).filter((name) => name.endsWith('.csv'))).toHaveLength(13);
      const read = (sheet: string): Rows =>
        parse(readFileSync(join(folder, `accountant-${sheet}.csv`)), { columns: true });
      for (const [sheet, file, columns] of [
        ['Sales', 'sales', ['gold', 'silver', 'deductions', 'total', 'total_booked']],
        ['Journal', 'journal', ['debit', 'credit']],
        ['Inventories', 'inventories', ['cost', 'lower']],
        ['Trial balance', 'trial-balance', ['closing', 'debit']],
        ['Checks', 'checks', ['figure', 'here', 'difference']],
      ] as const)
        for (const column of columns)
          expect([sheet, column, total(read(sheet), column)]).toEqual([
            sheet,
            column,
            total(rows(file), column),
          ]);
      expect(read('Sales').map((row) => row['issued_on'])).toEqual(
        rows('sales').map((row) => row['issued_on']),
      );
    });
  });
});
