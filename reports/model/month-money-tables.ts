import { figureOf } from '../../api/calc/books/book-entry.ts';
import { costsByKind, monthResult } from '../../api/calc/books/month-figures.ts';
import { Dec, sumOf } from '../../api/calc/money.ts';
import { formatAmount, formatRounded, NO_FIGURE } from './format.ts';
import type { MonthReportInput } from './month-input.ts';
import { monthWords } from './month-words.ts';
import type { TableBlock, TableRow } from './report.ts';
import { figure, text, total } from './table-parts.ts';

/** Costs by kind, by where they arose, with the year to date. */
export function monthCostTable({ figures, currency }: MonthReportInput): TableBlock {
  const year = costsByKind(figures.year);
  const month = new Map(costsByKind(figures.month).map((one) => [one.kind, one]));
  const amount = (value: string) => formatAmount(value, 2);
  const rows = year.map(({ kind, total: ofYear }): TableRow => {
    const one = month.get(kind);
    const cell = (value: string | undefined) => amount(value ?? '0');
    return {
      style: 'plain',
      cells: {
        kind,
        days: cell(one?.days),
        batches: cell(one?.batches),
        other: cell(one?.other),
        month: cell(one?.total),
        year: amount(ofYear),
      },
    };
  });
  const sum = (values: string[]) => amount(sumOf(values).toFixed(2));
  const all = [...month.values()];
  return {
    kind: 'table',
    caption: `Costs by kind, ${currency}`,
    columns: [
      text('kind', 'Kind', 30),
      figure('days', 'Days', 13),
      figure('batches', 'Batches', 14),
      figure('other', 'Other', 14),
      figure('month', 'Month', 14),
      figure('year', 'Year to date', 15),
    ],
    rows:
      rows.length === 0
        ? []
        : [
            ...rows,
            total({
              kind: 'All costs',
              days: sum(all.map(({ days }) => days)),
              batches: sum(all.map(({ batches }) => batches)),
              other: sum(all.map(({ other }) => other)),
              month: sum(all.map((one) => one.total)),
              year: sum(year.map((one) => one.total)),
            }),
          ],
  };
}

/** What came in less what was spent, month and year to date. */
export function monthResultTable({ figures, currency }: MonthReportInput): TableBlock {
  const [month, year] = [monthResult(figures.month), monthResult(figures.year)];
  const amount = (value: string | null) => (value === null ? NO_FIGURE : formatAmount(value, 2));
  const row = (label: string, of: (result: typeof month) => string | null): TableRow => ({
    style: 'plain',
    cells: { label, month: amount(of(month)), year: amount(of(year)) },
  });
  return {
    kind: 'table',
    caption: `Result, ${currency}`,
    columns: [text('label', 'Item', 50), figure('month', 'Month', 25), figure('year', 'Year to date', 25)],
    rows: [
      row('Statements, what was paid before taken off', ({ settled }) => settled),
      row('Costs', ({ costs }) => new Dec(costs).negated().toFixed(2)),
      total({ label: 'Net value', month: amount(month.netValue), year: amount(year.netValue) }),
      row('Costs per dry tonne fed', ({ perFedTonne }) => perFedTonne),
      row('Costs per dry tonne treated in batches', ({ perTreatedTonne }) => perTreatedTonne),
      row('Costs per troy ounce of gold made in bars and beads', ({ perGoldOztMade }) => perGoldOztMade),
      row(
        'Paid of royalties, taxes and wages that were charged before',
        ({ paidOnAccount }) => paidOnAccount,
      ),
      {
        style: 'plain',
        cells: {
          label: 'Received from buyers',
          month: amount(figureOf(figures.month, 'paid').toFixed(2)),
          year: amount(figureOf(figures.year, 'paid').toFixed(2)),
        },
      },
    ],
  };
}

/** Supplies in stock at the end of the month, at their moving average. */
export function supplyStockTable({ stock, currency }: MonthReportInput): TableBlock {
  const rows = stock.supplies.map(({ name, quantity, unit, value }): TableRow => ({
    style: 'plain',
    cells: { name, quantity: `${formatRounded(quantity, 2)} ${unit}`, value: formatAmount(value, 2) },
  }));
  return {
    kind: 'table',
    caption: `Supplies in stock at the end of the month, at the moving average, ${currency}`,
    columns: [text('name', 'Supply', 50), figure('quantity', 'Quantity', 25), figure('value', 'Value', 25)],
    rows:
      rows.length === 0
        ? []
        : [
            ...rows,
            total({
              name: 'All supplies',
              value: formatAmount(sumOf(stock.supplies.map(({ value }) => value)).toFixed(2), 2),
            }),
          ],
  };
}

/** The months of the year so far. */
export function byMonthTable({ byMonth, currency }: MonthReportInput): TableBlock {
  const amount = (value: string) => formatAmount(value, 2);
  const net = (settled: string, costs: string) => new Dec(settled).minus(costs).toFixed(2);
  const sum = (values: string[]) => sumOf(values).toFixed(2);
  const [settled, costs] = [
    sum(byMonth.map((one) => one.settled)),
    sum(byMonth.map((one) => one.costs)),
  ] as const;
  return {
    kind: 'table',
    caption: `The year month by month, ${currency}`,
    columns: [
      text('month', 'Month', 31),
      figure('settled', 'Statements', 23),
      figure('costs', 'Costs', 23),
      figure('net', 'Net value', 23),
    ],
    rows: [
      ...byMonth.map((one): TableRow => ({
        style: 'plain',
        cells: {
          month: monthWords(one.month),
          settled: amount(one.settled),
          costs: amount(one.costs),
          net: amount(net(one.settled, one.costs)),
        },
      })),
      total({
        month: 'Year to date',
        settled: amount(settled),
        costs: amount(costs),
        net: amount(net(settled, costs)),
      }),
    ],
  };
}
