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

/** What has to be at hand in all, with its price of the day. */
export function needTable({ lines, total: sum }: BatchNeeds, currency: string): TableBlock {
  const rows = lines.map(({ name, quantity, unit, unitPrice, amount, unpriced }): TableRow => ({
    style: 'plain',
    cells: {
      name,
      quantity: `${formatDecimal(quantity)} ${unitText(unit, quantity)}`,
      unitPrice: unitPrice === null ? unpriced : formatDecimal(unitPrice),
      amount: amount === null ? NO_FIGURE : formatAmount(amount, 2),
    },
  }));
  return {
    kind: 'table',
    caption: `To have at hand, in all, at prices in ${currency}`,
    columns: [
      text('name', 'Supply', 34),
      figure('quantity', 'Quantity', 28),
      figure('unitPrice', 'Price', 20),
      figure('amount', 'Amount', 18),
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
