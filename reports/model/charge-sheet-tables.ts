import type { BatchNeeds } from '../../api/calc/books/batch-needs.ts';
import { Dec } from '../../api/calc/money.ts';
import type { ChargeSheet } from '../../api/calc/smelting/charge-sheet.ts';
import type { ChargeSheetReportInput } from './charge-sheet-input.ts';
import { chargeHead, poundsOfKg } from './charge-sheet-words.ts';
import { formatAmount, formatDecimal, NO_FIGURE, sumAsPrinted } from './format.ts';
import type { TableBlock, TableRow } from './report.ts';
import { figure, text, total } from './table-parts.ts';

const massKey = (index: number) => `mass${index}`;

/** Everything to weigh out, for each size of charge and in all. */
export function weighOutTable(sheet: ChargeSheet, massUnit: ChargeSheetReportInput['massUnit']): TableBlock {
  const inPounds = massUnit === 'lb';
  const massCells = (massG: readonly string[]) =>
    Object.fromEntries(massG.map((mass, index) => [massKey(index), formatDecimal(mass)]));
  const totalCells = (totalKg: string) => ({
    totalKg: formatDecimal(totalKg),
    ...(inPounds ? { totalLb: poundsOfKg(totalKg) } : {}),
  });
  const rows = sheet.lines.map(({ name, massG, totalKg }): TableRow => ({
    style: 'plain',
    cells: { name, ...massCells(massG), ...totalCells(totalKg) },
  }));
  const columnSums = sheet.charges.map((_, index) =>
    sumAsPrinted(sheet.lines.map((line) => line.massG[index] ?? '0')),
  );
  const inAll = sumAsPrinted(sheet.lines.map((line) => line.totalKg));
  return {
    kind: 'table',
    caption: 'Grams for each charge, kilograms in all',
    columns: [
      text('name', 'Material', 30),
      ...sheet.charges.map((charge, index) =>
        figure(massKey(index), chargeHead(charge, index > 0 && index === sheet.charges.length - 1), 19),
      ),
      figure('totalKg', 'In all, kg', 14),
      ...(inPounds ? [figure('totalLb', 'In all, lb', 14)] : []),
    ],
    rows: [...rows, total({ name: 'The whole charge', ...massCells(columnSums), ...totalCells(inAll) })],
  };
}

/** Whether any of it is kept in stock, so that what is there is taken off. */
export const countsStock = ({ lines }: BatchNeeds): boolean => lines.some((line) => line.inStock !== null);

/** What the batch takes, what of it is in stock and what is to be bought at the price of the day. */
export function needTable(needs: BatchNeeds, currency: string): TableBlock {
  const { lines, total: sum } = needs;
  const withStock = countsStock(needs);
  const measured = (quantity: string, unit: string) =>
    `${formatDecimal(quantity)} ${unitText(unit, quantity)}`;
  const rows = lines.map(
    ({ name, quantity, unit, inStock, toBuy, unitPrice, amount, unpriced }): TableRow => ({
      style: 'plain',
      cells: {
        name,
        quantity: measured(quantity, unit),
        ...(withStock
          ? {
              inStock: inStock === null ? 'not counted' : measured(inStock, unit),
              toBuy: new Dec(toBuy).isZero() ? 'nothing' : measured(toBuy, unit),
            }
          : {}),
        unitPrice: unitPrice === null ? unpriced : formatDecimal(unitPrice),
        amount: amount === null ? NO_FIGURE : formatAmount(amount, 2),
      },
    }),
  );
  return {
    kind: 'table',
    caption: withStock
      ? `To buy beyond what is in stock, at prices in ${currency}`
      : `To have at hand, in all, at prices in ${currency}`,
    columns: [
      text('name', 'Supply', withStock ? 26 : 34),
      figure('quantity', withStock ? 'Needed' : 'Quantity', withStock ? 18 : 28),
      ...(withStock ? [figure('inStock', 'In stock', 18), figure('toBuy', 'To buy', 18)] : []),
      figure('unitPrice', 'Price', withStock ? 14 : 20),
      figure('amount', 'Amount', withStock ? 16 : 18),
    ],
    rows:
      rows.length === 0
        ? []
        : [
            ...rows,
            total({
              name: lines.every((line) => line.amount !== null) ? 'In all' : 'What is priced',
              amount: formatAmount(sum, 2),
            }),
          ],
  };
}

function unitText(unit: string, quantity: string): string {
  if (unit !== 'each') return unit;
  return new Dec(quantity).equals(1) ? 'piece' : 'pieces';
}

/** The supplies without a price, for the sentence under the table. */
export const unpricedNames = ({ lines }: BatchNeeds): string[] =>
  lines.filter((line) => line.amount === null).map((line) => line.name);
