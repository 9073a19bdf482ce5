import type { BatchNeeds } from '../../api/calc/books/batch-needs.ts';
import { Dec } from '../../api/calc/money.ts';
import type { ChargeSheet } from '../../api/calc/smelting/charge-sheet.ts';
import type { RecipeWork } from '../../api/calc/smelting/recipe-work.ts';
import { silicateName } from '../../api/calc/smelting/slag.ts';
import type { ChargeSheetReportInput } from './charge-sheet-input.ts';
import { chargeHead, kgOfG, poundsOfKg } from './charge-sheet-words.ts';
import { formatAmount, formatDecimal, formatEstimate, NO_FIGURE, sumAsPrinted } from './format.ts';
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

/** What the recipe will do to the largest charge; a row for what is to be expected, and nothing for what is not. */
export function effectTable(work: RecipeWork, sheet: ChargeSheet): TableBlock {
  const kg = (massG: number) => formatEstimate(massG / 1000, 2);
  const ranged = (name: string, range: { low: number; value: number; high: number }): TableRow[] =>
    range.high > 0
      ? [
          {
            style: 'plain',
            cells: { name, low: kg(range.low), value: kg(range.value), high: kg(range.high) },
          },
        ]
      : [];
  const single = (name: string, massG: number): TableRow[] =>
    massG > 0 ? [{ style: 'plain', cells: { name, low: '', value: kg(massG), high: '' } }] : [];
  const { volume, silicateDegree, oxygen } = work;
  const percent = (volumeMl: number): string =>
    volume.fillFrac === null
      ? NO_FIGURE
      : formatEstimate((100 * volumeMl * volume.fillFrac) / volume.bulkVolumeMl.value, 0);
  return {
    kind: 'table',
    caption: `Expected in a charge of ${kgOfG(sheet.charges[0]?.concentrateG ?? '0')} kg`,
    columns: [
      text('name', 'What', 52),
      figure('low', 'Low', 16),
      figure('value', 'Likely', 16),
      figure('high', 'High', 16),
    ],
    rows: [
      ...single('Lead reduced from litharge, kg', oxygen.leadReducedG),
      ...ranged('Matte, kg', work.matte.matteG),
      ...ranged('Lead that goes to the matte, kg', work.matte.leadInMatteG),
      ...single('Speiss, at most, kg', work.speissG),
      ...single('Iron that the sulfides take up, kg', work.ironNeededG),
      ...single('Sulfur dioxide given off by the melt, at most, kg', work.sulfurDioxideG),
      ...(silicateDegree === null
        ? []
        : [
            {
              style: 'plain' as const,
              cells: {
                name: `Silicate degree of the slag (${silicateName(silicateDegree)})`,
                low: '',
                value: formatEstimate(silicateDegree, 2),
                high: '',
              },
            },
          ]),
      ...ranged('Loose volume before melting, L', volume.bulkVolumeMl),
      ...(volume.fillFrac === null
        ? []
        : [
            {
              style: 'plain' as const,
              cells: {
                name: 'Of the crucible filled by it, %',
                low: percent(volume.bulkVolumeMl.low),
                value: percent(volume.bulkVolumeMl.value),
                high: percent(volume.bulkVolumeMl.high),
              },
            },
          ]),
    ],
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
