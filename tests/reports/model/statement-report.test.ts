import { Decimal } from 'decimal.js';
import { describe, expect, it } from 'vitest';
import type { Block, Report, TableBlock } from '../../../reports/model/report.ts';
import { statementReport } from '../../../reports/model/statement-report.ts';
import { BUYER, line, SELLER, settlementOf, statementInput } from '../fixtures.ts';

function tableOf(report: Report, caption: string): TableBlock {
  const table = report.blocks.find(
    (block): block is TableBlock => block.kind === 'table' && block.caption === caption,
  );
  if (table === undefined) throw new Error(`no table "${caption}"`);
  return table;
}

const noticesOf = (report: Report) =>
  report.blocks.filter((block): block is Extract<Block, { kind: 'notice' }> => block.kind === 'notice');
const leadOf = (report: Report) => report.blocks.find((block) => block.kind === 'lead')?.text;
const number = (text: string) => new Decimal(text.replaceAll(',', '').replace('−', '-'));

describe('statementReport', () => {
  it('says first who owes whom how much', () => {
    expect(leadOf(statementReport(statementInput()))).toBe(
      `${BUYER.name} owes ${SELLER.name} 1,560.05 USD on the final statement S-0007 for Parcel P-12, table concentrate.`,
    );
  });

  it('turns the sentence round when the seller owes the buyer, and owes nothing at nought', () => {
    const charge = line({ id: 'charges/other', section: 'charges', label: 'Charge', amount: '-12.30' });
    const owed = statementReport(statementInput({ settlement: settlementOf([charge]) }));
    expect(leadOf(owed)).toMatch(
      new RegExp(`^${SELLER.name} owes ${BUYER.name} 12.30 USD`.replaceAll(/[()]/g, '\\$&')),
    );
    expect(tableOf(owed, 'Account in USD').rows.at(-1)?.cells).toEqual({
      label: 'Seller owes buyer',
      amount: '−12.30',
    });
    const even = statementReport(statementInput({ settlement: settlementOf([]) }));
    expect(leadOf(even)).toMatch(/^Nothing is owed either way/);
  });

  it('prints each line once, in the order of the sections, with its working below it', () => {
    const input = statementInput();
    const report = statementReport(input);
    const rows = [
      ...tableOf(report, 'Weights, assays and prices').rows,
      ...tableOf(report, 'Account in USD').rows,
    ];
    const printed = rows.filter((row) => row.style === 'plain').map((row) => [row.cells.label, row.detail]);
    const lines = input.settlement.lines.filter((each) => each.section !== 'total');
    expect(printed).toEqual(lines.map((each) => [each.label, each.working]));
  });

  it('has columns that foot: lines to the sums of their sections, sections to the total', () => {
    const rows = tableOf(statementReport(statementInput()), 'Account in USD').rows;
    let section = new Decimal(0);
    let all = new Decimal(0);
    for (const row of rows) {
      const amount = row.cells.amount;
      if (row.style === 'section') section = new Decimal(0);
      if (amount === undefined) continue;
      if (row.style === 'plain') {
        section = section.plus(number(amount));
        all = all.plus(number(amount));
      }
      if (row.style === 'subtotal') expect(number(amount).toFixed(2)).toBe(section.toFixed(2));
      if (row.style === 'total') expect(number(amount).toFixed(2)).toBe(all.toFixed(2));
    }
    expect(rows.filter((row) => row.style === 'subtotal')).toHaveLength(2);
    expect(all.toFixed(2)).toBe('1560.05');
  });

  it('gives the working of the total, and what is paid in another currency below it', () => {
    const input = statementInput();
    const paid = line({
      id: 'total/CAD',
      section: 'total',
      label: 'Paid in CAD',
      working: '1,560.05 USD ÷ 0.73 = 2,137.05 CAD',
      result: { value: '2137.05', unit: 'CAD' },
    });
    const settlement = { ...input.settlement, lines: [...input.settlement.lines, paid] };
    const rows = tableOf(statementReport({ ...input, settlement }), 'Account in USD').rows.slice(-2);
    expect(rows[0]).toMatchObject({ style: 'total', detail: '7,210.05 − 5,650.00 = 1,560.05 USD' });
    expect(rows[1]).toMatchObject({
      style: 'plain',
      cells: { label: 'Paid in CAD', result: '2,137.05 CAD' },
    });
  });

  it('warns on the page when the lines do not add up to the total', () => {
    const input = statementInput();
    const report = statementReport({ ...input, settlement: { ...input.settlement, total: '1560.06' } });
    expect(noticesOf(report)).toEqual([
      {
        kind: 'notice',
        level: 'caution',
        text: 'The lines add up to 0.01 USD less than the total. Do not use this statement until the difference is found.',
      },
    ]);
  });

  it('names no total while a blocker stands', () => {
    const input = statementInput();
    const blocker = {
      code: 'no-price',
      level: 'blocker',
      path: '/prices',
      sentence: 'No price of silver.',
    } as const;
    const lines = input.settlement.lines.filter((each) => each.section !== 'total');
    const report = statementReport({ ...input, settlement: { ...settlementOf(lines), findings: [blocker] } });
    expect(leadOf(report)).toMatch(/is not complete: no total is given/);
    expect(noticesOf(report)).toEqual([{ kind: 'notice', level: 'caution', text: 'No price of silver.' }]);
    const rows = tableOf(report, 'Account in USD').rows;
    expect(rows.filter((row) => row.style === 'total')).toEqual([]);
    expect(rows.at(-1)?.cells.label).toBe('Sum of the lines so far; not a total');
  });

  it('marks a draft on every page and in a notice', () => {
    const input = statementInput();
    const statement = { ...input.statement, number: null, issuedOn: null, isDraft: true };
    const report = statementReport({ ...input, statement });
    expect(report.runningHead).toBe('Statement, final, draft, not issued');
    expect(noticesOf(report)[0]?.text).toMatch(/^Draft: this statement has not been issued/);
    expect(leadOf(report)).toContain('on this final draft for');
  });

  it('lists the quotations by day with their number and exact sum, a dash where one metal has none', () => {
    const input = statementInput();
    const [gold, silver] = input.quotations;
    if (gold === undefined || silver === undefined) throw new Error('fixture');
    const quotations = [gold, { ...silver, rows: silver.rows.slice(1) }];
    const rows = tableOf(statementReport({ ...input, quotations }), 'Quotations of the price period').rows;
    expect(rows[0]?.cells).toEqual({ date: '6 Jul 2026', 'metal-0': '2,498.00', 'metal-1': '–' });
    expect(rows.at(-2)?.cells).toEqual({ date: 'Number of quotations', 'metal-0': '4', 'metal-1': '3' });
    expect(rows.at(-1)?.cells).toEqual({ date: 'Sum', 'metal-0': '10,010.00', 'metal-1': '91.10' });
  });

  it('prints the days that the terms count from and the day of payment', () => {
    const input = statementInput({
      days: [
        { event: 'arrival', on: '2026-07-03' },
        { event: 'melting', on: null },
        { event: 'statement', on: '2026-08-12' },
      ],
      dueOn: '2026-08-24',
    });
    const factsOf = (report: Report) => {
      const block = report.blocks.find((each) => each.kind === 'facts');
      return Object.fromEntries((block?.facts ?? []).map(({ label, value }) => [label, value]));
    };
    const issued = factsOf(statementReport(input));
    expect(issued).toMatchObject({
      'Issued on': '14 Aug 2026',
      'Arrived on': '3 Jul 2026',
      'Melted on': 'Not entered yet',
      'Drawn up on': '12 Aug 2026',
      'Payment due on': '24 Aug 2026',
    });
    const draft = { ...input, statement: { ...input.statement, issuedOn: '2026-08-12', isDraft: true } };
    expect(factsOf(statementReport(draft))['Drawn up on']).toBe('12 Aug 2026');
    expect(Object.keys(factsOf(statementReport({ ...input, days: [], dueOn: null })))).not.toContain(
      'Payment due on',
    );
  });

  it('sets the sentences of one clause together, and the rounding once', () => {
    const termsSentences = [
      { clause: 'Gold', sentence: 'One.' },
      { clause: 'Gold', sentence: 'Two.' },
      { clause: 'Rounding', sentence: 'Said under its own heading.' },
    ];
    const report = statementReport(statementInput({ termsName: 'T', termsSentences }));
    expect(tableOf(report, 'T').rows.map((row) => row.cells)).toEqual([
      { clause: 'Gold', sentence: 'One. Two.' },
    ]);
    const input = statementInput({ termsName: 'T', termsSentences });
    const bare = statementReport({ ...input, settlement: { ...input.settlement, roundingRules: [] } });
    expect(tableOf(bare, 'T').rows.at(-1)?.cells.clause).toBe('Rounding');
  });

  it('marks only invented documents as invented', () => {
    expect(statementReport(statementInput()).demoNotice).toMatch(/^Invented example/);
    expect(statementReport(statementInput({ isDemo: false })).demoNotice).toBeNull();
  });

  it('says what is provisional', () => {
    const input = statementInput({ provisionalItems: ['Price: 4 of 21 quotations are known.'] });
    const report = statementReport({ ...input, statement: { ...input.statement, stage: 'provisional' } });
    const texts = report.blocks.flatMap((block) => (block.kind === 'paragraph' ? [block.text] : []));
    expect(texts).toContain('Price: 4 of 21 quotations are known.');
    expect(texts.some((text) => text.startsWith('This statement is provisional'))).toBe(true);
  });
});
