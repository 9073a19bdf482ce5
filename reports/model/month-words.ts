import { figureOf } from '../../api/calc/books/book-entry.ts';
import { monthResult } from '../../api/calc/books/month-figures.ts';
import { Dec } from '../../api/calc/money.ts';
import { formatDate, formatMoney, formatRounded } from './format.ts';
import { lossesBeyondForecast } from './month-metal-tables.ts';
import type { MonthBatch, MonthReportInput } from './month-input.ts';
import { inOwnerUnits } from './owner-units.ts';
import { standing } from './season-tables.ts';

const MONTHS = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
];

/** `2026-07` as it prints: `July 2026`. */
export function monthWords(month: string): string {
  return `${MONTHS[Number(month.slice(5, 7)) - 1] ?? month} ${month.slice(0, 4)}`;
}

/** Gold of bars, beads and buttons, which is made here; concentrate sold as it is is not. */
export function goldMadeG(figures: Record<string, string>): string {
  return ['bar', 'bead', 'button']
    .reduce((sum, kind) => sum.plus(figureOf(figures, `made/${kind}/goldG`)), new Dec(0))
    .toFixed();
}

/** What the month made, cost and brought, in one sentence. */
export function monthSentence(input: MonthReportInput): string {
  const { figures, currency, month, units } = input;
  const shown = inOwnerUnits(units);
  const { settled, costs, netValue } = monthResult(figures.month);
  const money = (amount: string) => formatMoney(amount, 2, currency);
  const batches = figureOf(figures.month, 'batches').toNumber();
  const feed = figureOf(figures.month, 'feedDryT');
  const gold = goldMadeG(figures.month);
  const parts = [
    ...(feed.isZero() ? [] : [`fed ${formatRounded(feed.toFixed(), 1)} t dry`]),
    batches === 0
      ? 'finished no batch'
      : `finished ${batches} ${batches === 1 ? 'batch' : 'batches'}${
          new Dec(gold).isZero() ? '' : ` with ${shown.metal(gold)} ${shown.metalUnit} of gold in metal made`
        }`,
  ];
  const side = new Dec(netValue);
  const end = side.isZero()
    ? 'neither ahead nor behind'
    : `${money(side.abs().toFixed(2))} ${side.isNegative() ? 'behind' : 'ahead'}`;
  const until = input.isOver ? '' : ` so far, up to ${formatDate(input.upTo)},`;
  return `In ${monthWords(month)}${until} the mill ${parts.join(' and ')}; statements brought ${money(settled)} and costs were ${money(costs)}: ${end}.`;
}

function worstBatch(batches: readonly MonthBatch[]): MonthBatch | undefined {
  const missBy = ({ forecastNetValue, actualNetValue }: MonthBatch): number => {
    if (forecastNetValue === null || actualNetValue === null) return 0;
    const amount = Number(actualNetValue.amount);
    return Math.max(forecastNetValue.p10 - amount, amount - forecastNetValue.p90, 0);
  };
  return batches.toSorted((a, b) => missBy(b) - missBy(a)).find((batch) => missBy(batch) > 0);
}

/** The one thing to look at first. */
export function lookFirst(input: MonthReportInput): string {
  const blocker = input.findings.find(({ level }) => level === 'blocker');
  if (blocker !== undefined) return `Look first at what could not be counted. ${blocker.sentence}`;
  const shown = inOwnerUnits(input.units);
  for (const metal of ['Au', 'Ag'] as const) {
    const beyond = lossesBeyondForecast(input.metals[metal]);
    if (beyond === null || Math.abs(beyond.value) <= 2 * beyond.u) continue;
    if (shown.roundedMetal(beyond.value) === 0) continue;
    const name = metal === 'Au' ? 'gold' : 'silver';
    const grams = shown.metal(Math.abs(beyond.value));
    return beyond.value < 0
      ? `Look first at the metal account: ${grams} ${shown.metalUnit} of ${name} are missing beyond what scales, assays and the forecast losses of smelting explain.`
      : `Look first at the metal account: ${grams} ${shown.metalUnit} of ${name} are there beyond what the lots were held to hold; a grade or a recovery was put too low.`;
  }
  const worst = worstBatch(input.batches.filter(({ settledInMonth }) => settledInMonth));
  if (worst !== undefined)
    return `Look first at batch ${worst.code}: what it brought is ${standing(worst.forecastNetValue, worst.actualNetValue?.amount ?? null)} of its forecast.`;
  if (input.corrections.length > 0)
    return `Look first at the corrections: ${input.corrections.length === 1 ? 'one entry' : `${input.corrections.length} entries`} of closed months changed.`;
  const warning = input.findings.find(({ level }) => level === 'warning');
  if (warning !== undefined) return `Look first at this: ${warning.sentence}`;
  return 'Nothing stands out: metal and money agree with what was foreseen, as far as they can be told.';
}
