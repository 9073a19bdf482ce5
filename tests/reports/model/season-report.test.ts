import { describe, expect, it } from 'vitest';
import type { Report, TableBlock } from '../../../reports/model/report.ts';
import { seasonReport } from '../../../reports/model/season-report.ts';
import { standing } from '../../../reports/model/season-tables.ts';
import { seasonInput } from '../fixtures.ts';

function tablesOf(report: Report): Record<string, TableBlock> {
  const tables = report.blocks.filter((block): block is TableBlock => block.kind === 'table');
  return Object.fromEntries(tables.map((table) => [table.caption.split(/[,;]| of each/)[0] ?? '', table]));
}

const textsOf = (report: Report, kind: 'lead' | 'paragraph' | 'notice') =>
  report.blocks.flatMap((block) => (block.kind === kind ? [block.text] : []));

describe('seasonReport', () => {
  const report = seasonReport(seasonInput());
  const tables = tablesOf(report);

  it('says first how the season stands', () => {
    expect(textsOf(report, 'lead')).toEqual([
      'By 31 Aug 2026, 3 statements had come to 11,415.65 USD and the costs of batches to 4,699.45 USD: the batches are 6,716.20 USD ahead.',
    ]);
    expect(textsOf(report, 'paragraph')[0]).toBe(
      "Of 2 batches with a forecast and a statement, 1 came within the forecast's 10 to 90 % range.",
    );
  });

  it('has totals that are the sums of their columns', () => {
    expect(tables['Statements less the costs of batches']?.rows.at(-1)?.cells.amount).toBe('6,716.20');
    expect(tables['Grades by all tests and assays together']?.rows.at(-1)?.cells).toEqual({
      code: 'All lots',
      dryMassKg: '1,551.40',
      takenKg: '1,205.00',
      leftKg: '346.40',
    });
    expect(tables['Net value']?.rows.at(-1)?.cells).toMatchObject({
      actual: '11,415.65',
      standing: '2 of 3 known',
    });
    expect(tables['Costs by kind']?.rows.at(-1)?.cells.amount).toBe('4,699.45');
    expect(
      tables['Gold and silver']?.rows.find((row) => row.cells.batch === 'Gold in all')?.cells.actual,
    ).toBe('4.965');
  });

  it('prints masses to the gram, and metal so that its standing can be seen from what is printed', () => {
    const [lot, ...lots] = seasonInput().lots;
    const [batch, ...batches] = seasonInput().batches;
    if (lot === undefined || batch === undefined) throw new Error('The season has lots and batches.');
    const printed = tablesOf(
      seasonReport(
        seasonInput({
          lots: [{ ...lot, takenKg: '380.70002' }, ...lots],
          batches: [
            {
              ...batch,
              forecastGoldOzt: { p10: 0.1494, p50: 0.1551, p90: 0.1601 },
              actualGoldOzt: '0.149',
            },
            ...batches,
          ],
        }),
      ),
    );
    expect(printed['Grades by all tests and assays together']?.rows[0]?.cells['takenKg']).toBe('380.7');
    const gold = printed['Gold and silver']?.rows.find((row) => row.cells['batch'] === batch.code);
    expect(gold?.cells).toMatchObject({ p10: '0.149', p50: '0.155', p90: '0.160', actual: '0.149' });
    expect(gold?.cells['standing']).toBe('within range');
  });

  it('puts statements in the order of their dates', () => {
    const settlements = seasonInput().settlements.toReversed();
    const rows = tablesOf(seasonReport(seasonInput({ settlements })))['Statements']?.rows;
    expect(rows?.slice(0, 3).map((row) => row.cells.number)).toEqual(['S-0006', 'S-0007', 'S-0008']);
  });

  it('adds up each currency by itself and keeps others out of the result, saying so', () => {
    const settlements = seasonInput().settlements.map((each, index) => ({
      ...each,
      currency: index === 2 ? 'CAD' : 'USD',
    }));
    const mixed = seasonReport(seasonInput({ settlements }));
    const sums = tablesOf(mixed)['Statements']?.rows.filter((row) => row.style === 'total');
    expect(sums?.map(({ cells }) => [cells.amount, cells.currency])).toEqual([
      ['7,210.05', 'USD'],
      ['4,205.60', 'CAD'],
    ]);
    expect(tablesOf(mixed)['Statements less the costs of batches']?.rows.at(-1)?.cells.amount).toBe(
      '2,510.60',
    );
    expect(textsOf(mixed, 'notice')[0]).toBe(
      'Statements in CAD are listed but not in the result, which is in USD alone.',
    );
  });

  it('stands when there is nothing yet', () => {
    const empty = seasonReport(
      seasonInput({ lots: [], batches: [], settlements: [], costs: [], findings: [], cautions: [] }),
    );
    expect(textsOf(empty, 'lead')[0]).toMatch(/0 statements had come to 0\.00 USD .*the batches are even\.$/);
    expect(textsOf(empty, 'paragraph')[0]).toMatch(/^No batch has both/);
    expect(tablesOf(empty)['Net value']?.rows).toEqual([]);
  });

  it('says behind when it is', () => {
    const behind = seasonReport(seasonInput({ settlements: [] }));
    expect(textsOf(behind, 'lead')[0]).toContain('the batches are 4,699.45 USD behind');
  });
});

describe('standing', () => {
  const forecast = { p10: 10, p50: 15, p90: 20 };
  it.each([
    [forecast, '9.99', 'below range'],
    [forecast, '10', 'within range'],
    [forecast, '20.00', 'within range'],
    [forecast, '20.01', 'above range'],
    [forecast, null, 'not yet known'],
    [null, '5', 'no forecast'],
  ])('%j and %s: %s', (range, actual, words) => {
    expect(standing(range, actual)).toBe(words);
  });
});
