import { parse } from 'csv-parse/sync';
import { Decimal } from 'decimal.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { accountantCsv } from '../../../reports/csv/accountant-csv.ts';
import type { AccountantRow } from '../../../reports/csv/accountant-row.ts';
import { statementRows } from '../../../reports/csv/statement-rows.ts';
import {
  csvTemplate,
  reagentColumn,
  reagentOfColumn,
  TEMPLATE_COLUMNS,
} from '../../../reports/csv/templates.ts';
import { safeText } from '../../../reports/csv/write-csv.ts';
import { BUYER, line, settlementOf, statementInput } from '../fixtures.ts';

const read = (csv: string): Record<string, string>[] =>
  parse(csv, { columns: true, record_delimiter: '\r\n', bom: true });

const COST: AccountantRow = {
  date: '2026-07-11',
  documentNumber: 'B-02',
  documentLine: '',
  counterparty: 'Invented "Supply", Ltd.',
  kind: 'reagent',
  description: 'Soda ash',
  quantity: '25.0',
  unit: 'kg',
  unitPrice: '-1.85',
  amount: '-46.25',
  currency: 'USD',
};

const statement = (over: Partial<Parameters<typeof statementRows>[0]> = {}) =>
  statementRows({
    settlement: statementInput().settlement,
    number: 'S-0007',
    issuedOn: '2026-08-14',
    counterparty: BUYER.name,
    millIs: 'seller',
    ...over,
  });

describe('accountantCsv', () => {
  it('is read back cell for cell by an independent reader of RFC 4180', () => {
    const [row] = read(accountantCsv([{ ...COST, description: 'Soda ash,\r\n"dense"' }]));
    expect(row).toEqual({
      date: '2026-07-11',
      document_number: 'B-02',
      document_line: '',
      counterparty: 'Invented "Supply", Ltd.',
      kind: 'reagent',
      description: 'Soda ash,\r\n"dense"',
      quantity: '25.0',
      unit: 'kg',
      unit_price: '-1.85',
      amount: '-46.25',
      currency: 'USD',
    });
  });

  it('ends every record with CR LF and has as many fields in each', () => {
    const csv = accountantCsv([COST, { ...COST, quantity: null, unitPrice: null }]);
    expect(csv.endsWith('\r\n')).toBe(true);
    expect(csv.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/);
    expect(csv.split('\r\n')[2]).toMatch(/Soda ash,,kg,,-46\.25,USD$/);
  });

  it('begins with a byte order mark only when asked to', () => {
    expect(accountantCsv([], { byteOrderMark: true }).startsWith('\ufeffdate,')).toBe(true);
    expect(accountantCsv([]).startsWith('date,')).toBe(true);
  });

  it('lets no words be executed, and leaves negative numbers numbers', () => {
    const names = ['=HYPERLINK("x")', '+1', '-2+3', '@SUM(A1)', '\tx', '\rx', '\nx', ' =1', '＝1', '−5'];
    const rows = read(accountantCsv(names.map((counterparty) => ({ ...COST, counterparty }))));
    rows.forEach((row, index) => {
      const name = names[index] ?? '';
      expect(row.counterparty).toBe(name.startsWith('−') ? name : `'${name}`);
      expect(Number(row.amount)).toBe(-46.25);
    });
  });

  it('guards whatever begins like a formula, and changes nothing else', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme' }), (text) => {
        const safe = safeText(text);
        expect(/^[=+\-@\t\r]/.test(safe)).toBe(false);
        expect(safe === text || safe === `'${text}`).toBe(true);
      }),
    );
  });

  it('refuses a figure that is not a plain decimal number', () => {
    expect(() => accountantCsv([{ ...COST, amount: '=1+1' }])).toThrow('not a plain decimal number');
    expect(() => accountantCsv([{ ...COST, quantity: '1,000' }])).toThrow('not a plain decimal number');
  });
});

describe('statementRows', () => {
  it('adds up to the statement to the cent, each row with its line', () => {
    const rows = read(accountantCsv(statement()));
    const sum = rows.reduce((total, row) => total.plus(row.amount ?? ''), new Decimal(0));
    expect(sum.toFixed(2)).toBe('1560.05');
    expect(rows.map((row) => [row.document_line, row.kind])).toEqual([
      ['payable/Au', 'sale of metal'],
      ['payable/Ag', 'sale of metal'],
      ['charges/treatment', 'treatment charge'],
      ['charges/refining/Au', 'refining charge'],
      ['charges/freight', 'freight'],
      ['penalties/As', 'penalty'],
      ['royalties/owner', 'royalty'],
      ['previous/S-0006', 'earlier statement'],
    ]);
  });

  it('has quantity × unit price = amount wherever a unit price stands', () => {
    const rows = statement().filter((row) => row.unitPrice !== null);
    expect(rows).toHaveLength(6);
    for (const row of rows) {
      expect(new Decimal(row.quantity ?? '').times(row.unitPrice ?? '').toFixed(2)).toBe(row.amount);
    }
  });

  it('turns all signs where the mill is the buyer', () => {
    const sold = statement();
    const bought = statement({ millIs: 'buyer' });
    bought.forEach((row, index) =>
      expect(new Decimal(row.amount).plus(sold[index]?.amount ?? '').isZero()).toBe(true),
    );
    expect(bought[0]).toMatchObject({ amount: '-7464.96', unitPrice: '-2502.50' });
  });

  it('tells apart interest, what is held back, a production tax and the umpire', () => {
    const lines = [
      line({ id: 'charges/umpire/Au', section: 'charges', label: 'Umpire', amount: '-60.00' }),
      line({ id: 'charges/minimum', section: 'charges', label: 'Minimum', amount: '-5.00' }),
      line({
        id: 'royalties/mines-licence',
        section: 'royalties',
        label: 'Mines licence: state',
        amount: '-1.00',
      }),
      line({ id: 'previous/held-back', section: 'previous', label: 'Held back', amount: '-9.00' }),
      line({ id: 'previous/interest/S-1', section: 'previous', label: 'Interest', amount: '-2.00' }),
      line({ id: 'weights/dry', section: 'weights', label: 'Dry mass' }),
    ];
    const rows = statement({ settlement: settlementOf(lines), productionTaxes: ['Mines licence'] });
    expect(rows.map((row) => row.kind)).toEqual([
      'assaying',
      'other charge',
      'production tax',
      'held back',
      'interest',
    ]);
  });
});

describe('csvTemplate', () => {
  it.each(['lots', 'test-smelts', 'quotations'] as const)(
    'of %s has its columns and two invented rows',
    (kind) => {
      const rows = read(csvTemplate(kind, { byteOrderMark: true }));
      expect(rows).toHaveLength(2);
      expect(Object.keys(rows[0] ?? {})).toEqual(TEMPLATE_COLUMNS[kind]);
      for (const row of rows) expect(Object.values(row).join(' ')).toMatch(/invented example/i);
    },
  );

  it('gives each reagent a column that names it', () => {
    const [header = ''] = csvTemplate('test-smelts', { reagentNames: ['Borax, dense', 'Soda ash'] }).split(
      '\r\n',
    );
    expect(header).toContain('bead_balance,"reagent:Borax, dense_g",reagent:Soda ash_g,remarks');
    expect(reagentOfColumn(reagentColumn('Borax, dense'))).toBe('Borax, dense');
    expect(reagentOfColumn('remarks')).toBeNull();
  });
});
