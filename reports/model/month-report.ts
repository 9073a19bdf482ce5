import { DEMO_NOTICE } from './demo-notice.ts';
import { formatDate, formatEstimate } from './format.ts';
import type { MonthReportInput } from './month-input.ts';
import { correctionTable } from './month-corrections.ts';
import { accountSentences, accountTable } from './month-metal-tables.ts';
import { byMonthTable, monthCostTable, monthResultTable, supplyStockTable } from './month-money-tables.ts';
import { metalStockTable, ouncesTable, payableSentence } from './month-stock-tables.ts';
import { differenceTable, feedTable, recoveryTable } from './month-tables.ts';
import { lookFirst, monthSentence, monthWords } from './month-words.ts';
import { findingNotices, notice } from './notices.ts';
import { inOwnerUnits, percentWithSpread } from './owner-units.ts';
import type { Block, Report } from './report.ts';

/** A month at the mill as a report: what it made, what it cost, what it brought, and whether the metal is all there. */
export function monthReport(input: MonthReportInput): Report {
  const name = monthWords(input.month);
  return {
    title: `Production report, ${name}`,
    subtitle: `${input.millName} · ${standingWords(input)}`,
    runningHead: `Production report, ${name}, ${input.closed === null ? `as of ${formatDate(input.upTo)}` : 'closed'}`,
    demoNotice: input.isDemo ? DEMO_NOTICE : null,
    language: 'en',
    blocks: [
      { kind: 'lead', text: monthSentence(input) },
      { kind: 'paragraph', text: lookFirst(input) },
      ...findingNotices(input.findings),
      ...corrections(input),
      { kind: 'heading', text: 'Result' },
      monthResultTable(input),
      { kind: 'heading', text: 'Feed and concentrate' },
      ...feed(input),
      { kind: 'heading', text: 'Batches' },
      ...batches(input),
      { kind: 'heading', text: 'Metal account' },
      ...account(input),
      ...input.cautions.map((text) => notice('caution', text)),
      { kind: 'heading', text: 'Made, shipped, settled' },
      ouncesTable(input),
      { kind: 'heading', text: 'Stock at the end of the month' },
      metalStockTable(input),
      ...sentence(payableSentence(input)),
      supplyStockTable(input),
      { kind: 'heading', text: 'Costs' },
      monthCostTable(input),
      { kind: 'heading', text: 'The year so far' },
      ...input.charts.map((chart): Block => ({ kind: 'chart', ...chart })),
      byMonthTable(input),
    ],
  };
}

function standingWords({ closed, isOver, upTo }: MonthReportInput): string {
  if (closed !== null) return `closed on ${formatDate(closed.on)} by ${closed.by}`;
  return isOver ? 'open: later entries still change it' : `not over yet, up to ${formatDate(upTo)}`;
}

const sentence = (text: string | null): Block[] => (text === null ? [] : [{ kind: 'paragraph', text }]);

function corrections(input: MonthReportInput): Block[] {
  if (input.corrections.length === 0) return [];
  return [
    { kind: 'heading', text: 'Corrections of closed months' },
    {
      kind: 'paragraph',
      text: 'Records of months that are closed were changed. The closed reports stay as they were; the differences count here, once, and in the year to date.',
    },
    correctionTable(input),
  ];
}

function feed(input: MonthReportInput): Block[] {
  const shown = inOwnerUnits(input.units);
  const { grades, twoProduct, findings } = input.feed;
  const words =
    grades === null
      ? 'Feed, tailings and the lots’ concentrate were not all assayed, so what the tables recover is not known.'
      : `Gold by assay, ${shown.gradeUnit}: feed ${shown.grade(grades.feed)}, concentrate of the lots made ${shown.grade(grades.concentrate)}, tailings ${shown.grade(grades.tailings)}.${
          twoProduct === null
            ? ''
            : ` By the two-product formula the concentrate holds ${percentWithSpread(twoProduct.recoveryFrac)} of the gold of the feed in ${formatEstimate(1000 * twoProduct.yieldFrac.value, 2)} kg of each tonne.`
        }`;
  return [feedTable(input), { kind: 'paragraph', text: words }, ...findingNotices(findings)];
}

function batches(input: MonthReportInput): Block[] {
  const finished = input.batches.some(({ finishedInMonth, isSale }) => finishedInMonth && !isSale);
  const settled = input.batches.some((batch) => batch.settledInMonth);
  return [
    ...(finished ? [recoveryTable(input)] : sentence('No batch was smelted to its end this month.')),
    ...(settled
      ? [
          differenceTable(input),
          ...sentence(
            'The effects are worked one after the other, in this order, and add up to the difference. Charges are what the metal does not explain: treatment and refining charges, penalties, credits.',
          ),
        ]
      : sentence('No statement was issued this month.')),
  ];
}

function account(input: MonthReportInput): Block[] {
  const unknown = [...new Set([...input.metals.Au.account.unknown, ...input.metals.Ag.account.unknown])];
  return [
    ...accountSentences(input).flatMap(sentence),
    accountTable(input),
    ...(unknown.length === 0
      ? []
      : [
          notice(
            'note',
            `Not in the account, because no test or assay says what they hold: ${unknown.join(', ')}.`,
          ),
        ]),
  ];
}
