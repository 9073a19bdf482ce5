import { monthResult } from '../../api/calc/books/month-figures.ts';
import { Dec } from '../../api/calc/money.ts';
import { DEMO_NOTICE } from './demo-notice.ts';
import { formatDate, formatMoney } from './format.ts';
import { findingNotices, notice } from './notices.ts';
import type { Block, Report } from './report.ts';
import type { SeasonReportInput } from './season-input.ts';
import { costTable, resultTable, seasonResult, settlementTable } from './season-money-tables.ts';
import { seasonDepthBlocks } from './season-depth.ts';
import { seasonTitle } from './season-title.ts';
import { lotTable, metalTable, standing, valueTable } from './season-tables.ts';

/**
 * The season as a report: how it stands in one sentence, lots, batches with
 * their forecasts beside what came, statements, costs and the result so far.
 */
export function seasonReport(input: SeasonReportInput): Report {
  const { season, millName, asOf } = input;
  const period = `${formatDate(season.startsOn)} to ${formatDate(season.endsOn)}`;
  return {
    title: 'Season report',
    subtitle: `${season.name}, ${period} · ${millName}`,
    runningHead: `${seasonTitle(season.name)}, as of ${formatDate(asOf)}`,
    demoNotice: input.isDemo ? DEMO_NOTICE : null,
    language: 'en',
    blocks: [
      { kind: 'lead', text: resultSentence(input) },
      { kind: 'paragraph', text: forecastSentence(input) },
      ...notices(input),
      { kind: 'heading', text: 'Result of the batches' },
      resultTable(input),
      { kind: 'heading', text: 'Lots' },
      lotTable(input.lots),
      { kind: 'heading', text: 'Forecast against actual' },
      ...input.charts.map((chart): Block => ({ kind: 'chart', ...chart })),
      valueTable(input),
      metalTable(input.batches, input.metalUnit),
      {
        kind: 'paragraph',
        text: 'A forecast is frozen when its batch is planned. Its medians are not added up, because the median of a sum is not the sum of the medians. Of ten actual values eight should lie within their range.',
      },
      ...(input.depth === null ? [] : seasonDepthBlocks(input.depth)),
      { kind: 'heading', text: 'Statements and costs' },
      settlementTable(input),
      costTable(input),
    ],
  };
}

function resultSentence(input: SeasonReportInput): string {
  const { currency, moneyDecimals, asOf, settlements, depth } = input;
  const { settled, costs, result } = seasonResult(input);
  const money = (amount: string) => formatMoney(amount, moneyDecimals, currency);
  const count = settlements.filter((one) => one.currency === currency).length;
  const statements = count === 1 ? '1 statement' : `${count} statements`;
  const stands = (what: string, verb: string, amount: string): string => {
    const difference = new Dec(amount);
    if (difference.isZero()) return `${what} ${verb} even`;
    const side = difference.isNegative() ? 'behind' : 'ahead';
    return `${what} ${verb} ${money(difference.abs().toFixed())} ${side}`;
  };
  const batches = `By ${formatDate(asOf)}, ${statements} had come to ${money(settled)} and the costs of batches to ${money(costs)}: ${stands('the batches', 'are', result)}.`;
  if (depth === null) return batches;
  const whole = monthResult(depth.figures).netValue;
  return `${batches} With the days at the mill and all expenses, ${stands('the mill', 'is', whole)}.`;
}

function forecastSentence({ batches }: SeasonReportInput): string {
  const standings = batches.map((batch) =>
    standing(batch.forecastNetValue, batch.actualNetValue?.amount ?? null),
  );
  const judged = standings.filter((each) => each.endsWith('range')).length;
  if (judged === 0) return 'No batch has both a forecast and a statement yet, so forecasts cannot be judged.';
  const within = standings.filter((each) => each === 'within range').length;
  return `Of ${judged} ${judged === 1 ? 'batch' : 'batches'} with a forecast and a statement, ${within} came within the forecast's 10 to 90 % range.`;
}

function notices(input: SeasonReportInput): Block[] {
  const others = [...new Set(input.settlements.map((one) => one.currency))].filter(
    (each) => each !== input.currency,
  );
  return [
    ...(others.length === 0
      ? []
      : [
          notice(
            'warning',
            `Statements in ${others.join(', ')} are listed but not in the result, which is in ${input.currency} alone.`,
          ),
        ]),
    ...findingNotices(input.findings),
    ...input.cautions.map((text) => notice('caution', text)),
  ];
}
