import { Dec } from '../../api/calc/money.ts';
import { formatAmount, formatDate, formatDecimal, sumAsPrinted, sumText } from './format.ts';
import type { TableBlock, TableRow } from './report.ts';
import type { SeasonReportInput } from './season-input.ts';
import { STAGE_WORDS } from './statement-words.ts';
import { figure, text, total } from './table-parts.ts';

/** Statements in the order of their dates, with a sum for each currency. */
export function settlementTable({ settlements, currency, moneyDecimals }: SeasonReportInput): TableBlock {
  const currencies = [...new Set([currency, ...settlements.map((one) => one.currency)])];
  const sums = currencies.flatMap((each): TableRow[] => {
    const amounts = settlements.filter((one) => one.currency === each).map((one) => one.amount);
    if (amounts.length === 0) return [];
    const amount =
      each === currency
        ? formatAmount(sumText(amounts), moneyDecimals)
        : formatDecimal(sumAsPrinted(amounts));
    return [total({ number: 'All statements', amount, currency: each })];
  });
  const rows = settlements
    .toSorted((one, other) => one.issuedOn.localeCompare(other.issuedOn))
    .map((one): TableRow => ({
      style: 'plain',
      cells: {
        number: one.number,
        stage: STAGE_WORDS[one.stage],
        buyer: one.buyer,
        issuedOn: formatDate(one.issuedOn),
        amount:
          one.currency === currency ? formatAmount(one.amount, moneyDecimals) : formatDecimal(one.amount),
        currency: one.currency,
      },
    }));
  return {
    kind: 'table',
    caption: 'Statements; each amount has what earlier statements paid taken off',
    columns: [
      text('number', 'Statement', 15),
      text('stage', 'Stage', 17),
      text('buyer', 'Buyer', 30),
      text('issuedOn', 'Issued on', 15),
      figure('amount', 'Amount', 16),
      text('currency', 'Currency', 10),
    ],
    rows: [...rows, ...sums],
  };
}

export function costTable({ costs, currency, moneyDecimals }: SeasonReportInput): TableBlock {
  const amount = (value: string) => formatAmount(value, moneyDecimals);
  const rows = costs.map((cost): TableRow => ({
    style: 'plain',
    cells: { kind: cost.kind, amount: amount(cost.amount) },
  }));
  const sum = amount(sumText(costs.map((cost) => cost.amount)));
  return {
    kind: 'table',
    caption: 'Costs by kind',
    columns: [text('kind', 'Kind', 70), figure('amount', `Amount, ${currency}`, 30)],
    rows: costs.length === 0 ? [] : [...rows, total({ kind: 'All costs', amount: sum })],
  };
}

/** What the statements brought less what was spent, in the season's currency. */
export function resultTable(input: SeasonReportInput): TableBlock {
  const { currency, moneyDecimals } = input;
  const { settled, costs, result } = seasonResult(input);
  const amount = (value: string) => formatAmount(value, moneyDecimals);
  return {
    kind: 'table',
    caption: `Statements less the costs of batches, ${currency}`,
    columns: [text('label', 'Item', 70), figure('amount', `Amount, ${currency}`, 30)],
    rows: [
      { style: 'plain', cells: { label: 'Statements', amount: amount(settled) } },
      {
        style: 'plain',
        cells: { label: 'Costs of batches', amount: amount(new Dec(costs).negated().toFixed()) },
      },
      total({ label: 'Result of the batches so far', amount: amount(result) }),
    ],
  };
}

/** Exact sums, in the season's currency only. */
export function seasonResult({ settlements, costs, currency }: SeasonReportInput): {
  settled: string;
  costs: string;
  result: string;
} {
  const settled = sumText(settlements.filter((one) => one.currency === currency).map((one) => one.amount));
  const spent = sumText(costs.map((cost) => cost.amount));
  return { settled, costs: spent, result: new Dec(settled).minus(spent).toFixed() };
}
