import { Dec } from '../../api/calc/money.ts';
import type { ComparedLine } from '../../api/calc/settlement/compared-lines.ts';
import type { LikelyCause, StatementComparison } from '../../api/calc/settlement/compare-statement.ts';
import { lineDifference } from './buyer-words.ts';
import { formatAmount, formatDecimal, NO_FIGURE } from './format.ts';
import type { TableBlock, TableRow } from './report.ts';
import { SECTION_WORDS, SECTIONS } from './statement-words.ts';
import { figure, text, total } from './table-parts.ts';

/** Every line of both statements with its difference and what explains it. */
export function moneyTable(comparison: StatementComparison): TableBlock {
  const { currency, moneyDecimals, lines, ourTotal, theirTotal, difference } = comparison;
  const amount = (value: string | null) => (value === null ? NO_FIGURE : formatAmount(value, moneyDecimals));
  const row = (line: ComparedLine): TableRow => ({
    style: 'plain',
    cells: {
      line: line.label,
      ours: amount(line.ours),
      theirs: amount(line.theirs),
      difference: amount(lineDifference(line)),
      why: whyWords(line),
    },
    ...quantityDetail(line),
  });
  const money = lines.filter((line) => line.money);
  return {
    kind: 'table',
    caption: `Ours and theirs, ${currency}`,
    columns: [
      text('line', 'Line', 36),
      figure('ours', 'Ours', 17),
      figure('theirs', 'Theirs', 17),
      figure('difference', 'Theirs less ours', 17),
      text('why', 'Explained', 17),
    ],
    rows: [
      ...SECTIONS.flatMap((section) => sectionRows(SECTION_WORDS[section], section, money, row)),
      ...sectionRows('On their statement alone', null, money, row),
      total({
        line: 'Total',
        ours: amount(ourTotal),
        theirs: amount(theirTotal),
        difference: amount(difference),
      }),
    ],
  };
}

function sectionRows(
  heading: string,
  section: ComparedLine['section'],
  lines: ComparedLine[],
  row: (line: ComparedLine) => TableRow,
): TableRow[] {
  const own = lines.filter((line) => line.section === section);
  return own.length === 0 ? [] : [{ style: 'section', cells: { line: heading } }, ...own.map(row)];
}

/** What of a line is to be said in a word or two. */
export function whyWords(line: ComparedLine): string {
  if (line.ours === null) return 'not on ours';
  if (line.theirs === null) return 'not on theirs';
  if (line.cause !== null) return `cause ${line.cause + 1}`;
  return new Dec(lineDifference(line) ?? 0).isZero() ? 'same' : 'open';
}

function quantityDetail({ ourQuantity, theirQuantity }: ComparedLine): { detail?: string } {
  if (theirQuantity === null || ourQuantity === null) return {};
  const ours = `${formatDecimal(ourQuantity.value)} ${ourQuantity.unit}`.trim();
  return { detail: `Ours on ${ours}, theirs on ${formatDecimal(theirQuantity)}.` };
}

/** Weights, assays and prices that they print, beside ours; each in its own unit. */
export function figureTable({ lines }: StatementComparison): TableBlock {
  const value = (text: string | null) => (text === null ? NO_FIGURE : formatDecimal(text));
  return {
    kind: 'table',
    caption: 'Weights, assays and prices that they print',
    columns: [
      text('line', 'Line', 36),
      figure('ours', 'Ours', 17),
      figure('theirs', 'Theirs', 17),
      figure('difference', 'Theirs less ours', 17),
      text('why', 'Explained', 17),
    ],
    rows: lines
      .filter((line) => !line.money)
      .map((line) => ({
        style: 'plain',
        cells: {
          line: line.unit === '' ? line.label : `${line.label}, ${line.unit}`,
          ours: value(line.ours),
          theirs: value(line.theirs),
          difference: value(line.difference),
          why: whyWords(line),
        },
      })),
  };
}

/** The lines that a cause explains, ours before and after it is worked again so. */
export function reworkedTable(cause: LikelyCause, number: number, moneyDecimals: number): TableBlock {
  const shown = (value: string | null, unit: string) =>
    value === null ? NO_FIGURE : `${formatDecimal(value)} ${unit}`.trim();
  const change = (before: string | null, after: string | null): string => {
    if (before === null && after === null) return NO_FIGURE;
    const by = new Dec(after ?? 0).minus(before ?? 0);
    return formatDecimal(by.toFixed(Math.max(by.decimalPlaces(), moneyDecimals)));
  };
  return {
    kind: 'table',
    caption: `Cause ${number}: ours worked again`,
    columns: [
      text('line', 'Line', 40),
      figure('before', 'Ours', 20),
      figure('after', 'Worked again', 20),
      figure('change', 'Change', 20),
    ],
    rows: cause.reworked.map(({ label, unit, before, after }) => ({
      style: 'plain',
      cells: {
        line: label,
        before: shown(before, unit),
        after: shown(after, unit),
        change: change(before, after),
      },
    })),
  };
}
