import { Dec } from '../../api/calc/money.ts';
import type {
  PrintedQuantity,
  Settlement,
  SettlementLine,
  SettlementSection,
} from '../../api/calc/settlement/statement.ts';
import { formatAmount, formatDate, formatDecimal, NO_FIGURE, sumAsPrinted, sumText } from './format.ts';
import type { TableBlock, TableRow } from './report.ts';
import type { StatementChange, StatementQuotations } from './statement-input.ts';
import { isComplete, SECTION_WORDS, SECTIONS } from './statement-words.ts';

type Column = TableBlock['columns'][number];

const COLUMNS = {
  label: { key: 'label', label: 'Line', align: 'start', weight: 46 },
  quantity: { key: 'quantity', label: 'Quantity', align: 'end', weight: 17 },
  rate: { key: 'rate', label: 'Rate', align: 'end', weight: 18 },
  result: { key: 'result', label: 'Result', align: 'end', weight: 18 },
} satisfies Record<string, Column>;

/** Weights, assays and prices: every line that is not money and comes before the money. */
export function measuredTable(settlement: Settlement): TableBlock {
  const lines = settlement.lines.filter(isMeasured);
  return {
    kind: 'table',
    caption: 'Weights, assays and prices',
    columns: usedColumns(lines),
    rows: SECTIONS.flatMap((section) => sectionRows(section, lines, lineRow)),
  };
}

/**
 * The money: section by section, each line with its working, each section with
 * its sum, then what is owed. Where the settlement is not complete there is no
 * total, and the sum of the lines says so.
 */
export function accountTable(settlement: Settlement): TableBlock {
  const { currency, moneyDecimals } = settlement;
  const lines = settlement.lines.filter((line) => !isMeasured(line) && line.section !== 'total');
  const amount = (value: string) => formatAmount(value, moneyDecimals);
  const row = (line: SettlementLine): TableRow => {
    const plain = lineRow(line);
    return line.amount === null
      ? plain
      : { ...plain, cells: { ...plain.cells, amount: amount(line.amount) } };
  };
  const rows = SECTIONS.flatMap((section): TableRow[] => {
    const amounts = amountsOf(lines.filter((line) => line.section === section));
    const sum: TableRow = {
      style: 'subtotal',
      cells: { label: `Sum of ${SECTION_WORDS[section].toLowerCase()}`, amount: amount(sumText(amounts)) },
    };
    const summed = amounts.length > 1 && section !== 'previous';
    return [...sectionRows(section, lines, row), ...(summed ? [sum] : [])];
  });
  return {
    kind: 'table',
    caption: `Account in ${currency}`,
    columns: [
      ...usedColumns(settlement.lines.filter((line) => !isMeasured(line))),
      { key: 'amount', label: `Amount, ${currency}`, align: 'end', weight: 16 },
    ],
    rows: [...rows, ...totalRows(settlement)],
  };
}

/** What is owed, with its working; below it what else belongs to it, such as the sum paid in another currency. */
function totalRows(settlement: Settlement): TableRow[] {
  const { total, moneyDecimals } = settlement;
  const cells = { amount: formatAmount(total, moneyDecimals) };
  if (!isComplete(settlement)) {
    return [{ style: 'subtotal', cells: { label: 'Sum of the lines so far; not a total', ...cells } }];
  }
  const lines = settlement.lines.filter((line) => line.section === 'total');
  const [owed] = lines.filter((line) => line.result?.unit === settlement.currency);
  return [
    {
      style: 'total',
      cells: { label: totalLabel(total), ...cells },
      ...(owed === undefined || owed.working === '' ? {} : { detail: owed.working }),
    },
    ...lines.filter((line) => line !== owed).map(lineRow),
  ];
}

function totalLabel(total: string): string {
  return new Dec(total).isNegative() ? 'Seller owes buyer' : 'Buyer owes seller';
}

/** The exact difference between the total and the sum of the lines; null where there is none. */
export function footingError(settlement: Settlement): string | null {
  const sum = new Dec(sumText(amountsOf(settlement.lines)));
  return sum.equals(settlement.total) ? null : sum.minus(settlement.total).toFixed();
}

function amountsOf(lines: SettlementLine[]): string[] {
  return lines.flatMap((line) => (line.amount === null ? [] : [line.amount]));
}

const MEASURED_SECTIONS: SettlementSection[] = ['weights', 'assays', 'prices'];

function isMeasured(line: SettlementLine): boolean {
  return line.amount === null && MEASURED_SECTIONS.includes(line.section);
}

function usedColumns(lines: SettlementLine[]): Column[] {
  const used = (key: 'quantity' | 'rate' | 'result') => lines.some((line) => line[key] !== null);
  return [
    COLUMNS.label,
    ...(used('quantity') ? [COLUMNS.quantity] : []),
    ...(used('rate') ? [COLUMNS.rate] : []),
    ...(used('result') ? [COLUMNS.result] : []),
  ];
}

function sectionRows(
  section: SettlementSection,
  lines: SettlementLine[],
  row: (line: SettlementLine) => TableRow,
): TableRow[] {
  const own = lines.filter((line) => line.section === section);
  if (own.length === 0) return [];
  return [{ style: 'section', cells: { label: SECTION_WORDS[section] } }, ...own.map(row)];
}

function lineRow(line: SettlementLine): TableRow {
  const cells = {
    label: line.label,
    quantity: quantityText(line.quantity),
    rate: quantityText(line.rate),
    result: quantityText(line.result),
  };
  return { style: 'plain', cells, ...(line.working === '' ? {} : { detail: line.working }) };
}

function quantityText(quantity: PrintedQuantity | null): string {
  if (quantity === null) return '';
  return `${formatDecimal(quantity.value)} ${quantity.unit}`.trim();
}

/** What changed since the statement before, by cause. */
export function changeTable(change: StatementChange, moneyDecimals: number): TableBlock {
  const row = (label: string, value: string, style: TableRow['style'] = 'plain'): TableRow => ({
    style,
    cells: { cause: label, amount: formatAmount(value, moneyDecimals) },
  });
  return {
    kind: 'table',
    caption: `Change of the net value since statement ${change.previousNumber}`,
    columns: [
      { key: 'cause', label: 'Cause', align: 'start', weight: 70 },
      { key: 'amount', label: `Amount, ${change.currency}`, align: 'end', weight: 30 },
    ],
    rows: [
      row('Masses', change.massEffect),
      row('Assays', change.assayEffect),
      row('Prices', change.priceEffect),
      ...(Number(change.otherEffect) === 0 ? [] : [row('Terms and umpire', change.otherEffect)]),
      row('Change in all', change.total, 'total'),
    ],
  };
}

/**
 * The quotations of the price period, a row a day and a column a metal, with
 * their number and exact sum, so that a mean can be worked from the page.
 */
export function quotationTable(quotations: StatementQuotations[]): TableBlock {
  const dates = [...new Set(quotations.flatMap(({ rows }) => rows.map((row) => row.date)))].sort();
  const key = (index: number) => `metal-${index}`;
  const cells = (value: (quotation: StatementQuotations) => string) =>
    Object.fromEntries(quotations.map((quotation, index) => [key(index), value(quotation)]));
  return {
    kind: 'table',
    caption: 'Quotations of the price period',
    columns: [
      { key: 'date', label: 'Day', align: 'start', weight: 25 },
      ...quotations.map(({ metal, unit }, index): Column => ({
        key: key(index),
        label: `${metal}, ${unit}`,
        align: 'end',
        weight: 25,
      })),
    ],
    rows: [
      ...dates.map((date): TableRow => {
        const price = ({ rows }: StatementQuotations) => rows.find((row) => row.date === date)?.price;
        const text = (found: string | undefined) => (found === undefined ? NO_FIGURE : formatDecimal(found));
        return {
          style: 'plain',
          cells: { date: formatDate(date), ...cells((quotation) => text(price(quotation))) },
        };
      }),
      {
        style: 'subtotal',
        cells: { date: 'Number of quotations', ...cells(({ rows }) => String(rows.length)) },
      },
      {
        style: 'total',
        cells: {
          date: 'Sum',
          ...cells(({ rows }) => formatDecimal(sumAsPrinted(rows.map((row) => row.price)))),
        },
      },
    ],
  };
}
