import { Decimal } from 'decimal.js';
import { describe, expect, it } from 'vitest';
import { compareStatement, type TheirLine } from '../../../api/calc/settlement/compare-statement.ts';
import type { SettlementInput } from '../../../api/calc/settlement/input.ts';
import { settle } from '../../../api/calc/settlement/settle.ts';
import type { BuyerReportInput } from '../../../reports/model/buyer-input.ts';
import { buyerReport } from '../../../reports/model/buyer-report.ts';
import type { Block, Report } from '../../../reports/model/report.ts';
import { inventedParcel } from '../../bench/invented-parcels.ts';

const input = inventedParcel(2);

function linesOf(theirs: SettlementInput): { lines: TheirLine[]; total: string } {
  const { lines, total } = settle(theirs);
  return {
    total,
    lines: lines
      .filter((line) => line.amount !== null)
      .map(({ id, label, amount, quantity }) => ({
        id,
        label,
        amount,
        result: null,
        quantity: quantity?.value ?? null,
      })),
  };
}

/** The arsenic counted by started steps, a clause that shows on its own line, in the royalty and in the total. */
const steps: SettlementInput = {
  ...input,
  terms: {
    ...input.terms,
    penalties: input.terms.penalties.map((penalty) =>
      penalty.name === 'Arsenic' && penalty.ladder.kind === 'marginal'
        ? { ...penalty, ladder: { ...penalty.ladder, counting: 'started-steps' } }
        : penalty,
    ),
  },
};

function reportOf(
  { lines, total }: { lines: TheirLine[]; total: string },
  more: Partial<BuyerReportInput> = {},
): Report {
  return buyerReport({
    comparison: compareStatement({ input, theirs: lines, theirTotal: total }),
    partyName: 'Invented Smelter',
    theirNumber: 'K-12',
    ourNumber: 'S-0009',
    weAreOwed: true,
    ours: {
      stage: 'final',
      issuedOn: '2026-07-02',
      parcelName: 'P-1 of batch B-1',
      termsName: 'Invented terms',
    },
    theirs: { datedOn: '2026-07-10', remarks: '' },
    millName: 'Invented Mill',
    isDemo: false,
    ...more,
  });
}

const textOf = (block: Block | undefined): string =>
  block !== undefined && 'text' in block ? block.text : '';
const tables = (report: Report) => report.blocks.filter((block) => block.kind === 'table');
const numberOf = (cell: string | undefined): Decimal =>
  new Decimal((cell ?? '').replaceAll(',', '').replace('−', '-').replace('–', '0'));
const stepsOf = (report: Report): string[] =>
  report.blocks.flatMap((block) => (block.kind === 'steps' ? block.steps : []));

describe('the report on two statements', () => {
  it('says in one sentence who reckons how much less, and what explains it', () => {
    const theirs = linesOf(steps);
    const ours = settle(input).total;
    const by = new Decimal(ours).minus(theirs.total);
    expect(by.gt(0)).toBe(true);
    const [lead, explained] = reportOf(theirs).blocks;
    expect(textOf(lead)).toContain('Statement K-12 of Invented Smelter comes to');
    expect(textOf(lead)).toContain(`, ${by.toFixed(2)} USD less than our S-0009 of`);
    expect(textOf(explained)).toBe(
      'One thing explains it to the last digit: they count Arsenic by started steps.',
    );
  });

  it('lists every line once, with columns that add up to both totals and the difference', () => {
    const theirs = linesOf(steps);
    theirs.lines.push({ id: null, label: 'Weighbridge', amount: '-35.00', result: null });
    theirs.lines = theirs.lines.filter(({ id }) => id !== 'charges/representation');
    theirs.total = theirs.lines.reduce((sum, { amount }) => sum.plus(amount ?? 0), new Decimal(0)).toFixed(2);
    const report = reportOf(theirs);
    const [money] = tables(report);
    const rows = money?.rows.filter(({ style }) => style === 'plain') ?? [];
    const total = money?.rows.find(({ style }) => style === 'total')?.cells;
    for (const column of ['ours', 'theirs', 'difference']) {
      const sum = rows.reduce((all, { cells }) => all.plus(numberOf(cells[column])), new Decimal(0));
      expect(sum.toFixed(2), column).toBe(numberOf(total?.[column]).toFixed(2));
    }
    const names = rows.map(({ cells }) => cells['line']);
    expect(new Set(names).size).toBe(names.length);
    const rowOf = (name: string) => rows.find(({ cells }) => cells['line'] === name)?.cells;
    expect(rowOf('Weighbridge')).toMatchObject({ ours: '–', theirs: '−35.00', why: 'not on ours' });
    expect(rowOf('Representation')).toMatchObject({ ours: '−320.00', theirs: '–', why: 'not on theirs' });
    expect(rowOf('Arsenic')?.['why']).toBe('cause 1');
    expect(rowOf('Freight')).toMatchObject({ difference: '0.00', why: 'same' });
    expect(stepsOf(report)).toEqual([
      'They count Arsenic by started steps. Ask how they count the steps, and point to the clause.',
      'Ask by which clause they put “Weighbridge”, −35.00 USD, on their statement.',
      'Ask why “Representation”, −320.00 USD on ours, is not on their statement.',
    ]);
    expect(textOf(report.blocks[1])).toMatch(
      /^One thing explains a part of it; 2 lines and .* USD of the total are left open\.$/,
    );
  });

  it('works the lines of a cause again, and tells a cause to our good apart', () => {
    const report = reportOf(linesOf(steps));
    const again = tables(report).find(({ caption }) => caption === 'Cause 1: ours worked again');
    const after = new Map(settle(steps).lines.map((line) => [line.label, line.amount ?? line.result?.value]));
    for (const { cells } of again?.rows ?? [])
      expect(numberOf(cells['after']?.split(' ')[0]).eq(after.get(cells['line'] ?? '') ?? '0')).toBe(true);
    expect(again?.rows.map(({ cells }) => cells['line'])).toContain('Arsenic');
    expect(JSON.stringify(report)).toContain('less: to our loss');
    expect(JSON.stringify(reportOf(linesOf(steps), { weAreOwed: false }))).toContain('less: to our good');
    expect(stepsOf(reportOf(linesOf(steps), { weAreOwed: false }))[0]).toContain('say so all the same');
  });

  it('asks about a line that nothing explains with our working and the quantity that they print', () => {
    const theirs = linesOf(input);
    theirs.lines = theirs.lines.map((line) =>
      line.id === 'charges/freight'
        ? { ...line, amount: new Decimal(line.amount ?? 0).minus('17.31').toFixed(2), quantity: '15.900' }
        : line,
    );
    theirs.total = new Decimal(theirs.total).minus('17.31').toFixed(2);
    const report = reportOf(theirs);
    const freight = settle(input).lines.find(({ id }) => id === 'charges/freight');
    expect(stepsOf(report)).toEqual([
      expect.stringMatching(
        /^Ask how they come to −[\d.,]+ USD for “Freight”\. They reckon on 15\.900 tonne\. Ours: /,
      ),
    ]);
    expect(stepsOf(report)[0]).toContain(freight?.working ?? 'no working');
    expect(textOf(report.blocks[1])).toMatch(/^No change that was tried/);
  });

  it('says that both agree, and asks nothing', () => {
    const report = reportOf(linesOf(input));
    expect(textOf(report.blocks[0])).toMatch(/agrees with our S-0009 to the last digit: both come to/);
    expect(stepsOf(report)).toEqual([]);
    expect(report.blocks.some((block) => block.kind === 'heading' && block.text === 'What explains it')).toBe(
      false,
    );
  });

  it('puts weights, assays and prices of theirs in a table of their own', () => {
    const { lines, total } = linesOf(input);
    const figure = settle(input).lines.find(({ id }) => id === 'assays/Au')?.result;
    const report = reportOf({
      total,
      lines: [...lines, { id: 'assays/Au', label: 'Gold', amount: null, result: figure?.value ?? '' }],
    });
    expect(tables(report)[1]?.rows).toMatchObject([
      { cells: { line: 'Au, g/t', difference: '0', why: 'same' } },
    ]);
  });

  it('cannot be made against a settlement of ours that is not complete', () => {
    const { lines, total } = linesOf(input);
    const comparison = compareStatement({
      input: { ...input, assays: [] },
      theirs: lines,
      theirTotal: total,
    });
    const report = reportOf({ lines, total }, { comparison, ourNumber: null });
    expect(textOf(report.blocks[0])).toBe(
      'Statement K-12 of Invented Smelter cannot be held against our draft, which is not complete.',
    );
    expect(stepsOf(report)).toEqual([]);
  });
});
