import { saidChance } from '../../api/calc/economics/decision-sentence.ts';
import { driversOfDifference } from '../charts/drivers-of-difference.ts';
import { netValueByTreatment } from '../charts/net-value-by-treatment.ts';
import type { NetValueChart } from '../charts/net-value-by-treatment.ts';
import { chartBlock } from './chart-block.ts';
import { DEMO_NOTICE } from './demo-notice.ts';
import { massText } from './charge-sheet-words.ts';
import type { DecisionReportInput } from './decision-input.ts';
import { inquiryTable, optionTable, turnTable } from './decision-tables.ts';
import {
  assumedWords,
  choiceSentence,
  chosenOption,
  gradeText,
  priceText,
  rangeFigures,
} from './decision-words.ts';
import { formatDate, formatEstimate } from './format.ts';
import { findingNotices } from './notices.ts';
import type { Block, Report } from './report.ts';

/** Wider than the paper's column, so that a picture is drawn a little smaller. */
const CHART_WIDTH_PT = 540;
/** So many options and drivers are drawn, and so much is said, that the report keeps to two pages. */
const MOST_OPTIONS_DRAWN = 4;
const MOST_DRIVERS_DRAWN = 3;
const MOST_NOTICES = 2;
const MOST_OUTCOMES = 2;

/**
 * A recorded decision for a partner or a bank, on two pages: what was decided and why, the options beside each
 * other; then what it rests on, what would have turned it, and what could still have been found out.
 */
export function decisionReport(input: DecisionReportInput): Report {
  const { lotCode, decidedOn, millName, dryMassKg } = input;
  return {
    title: 'Decision about a lot',
    subtitle: `Lot ${lotCode}, ${massText(dryMassKg, input.units.massUnit)} dry · ${formatDate(decidedOn)} · ${millName}`,
    runningHead: `Decision about lot ${lotCode}, ${formatDate(decidedOn)}`,
    demoNotice: input.isDemo ? DEMO_NOTICE : null,
    language: 'en',
    blocks: [
      { kind: 'lead', text: choiceSentence(input) },
      { kind: 'paragraph', text: `Reason given: ${input.reason}` },
      ...chosenBlocks(input),
      ...noticeBlocks(input),
      netValueChart(input),
      optionTable(input),
      ...outcomeBlocks(input),
      { kind: 'heading', text: 'What it rests on' },
      restsOn(input),
      ...driverBlocks(input),
      { kind: 'heading', text: 'What would have turned it' },
      ...turnBlocks(input),
      ...inquiryBlocks(input),
      {
        kind: 'paragraph',
        text: `All figures are estimates as the books stood on ${formatDate(decidedOn)}, frozen with everything they were worked from (${formatEstimate(input.assumptions.drawCount, 0)} draws, seed ${input.assumptions.seed}), so that they can be worked again. Of ten outcomes eight should lie within a range. They take the place of no licensed assayer, engineer or tax adviser.${cautionSentence(input)}`,
      },
    ],
  };
}

/** Where the lot is smelted, what goes before any figure. */
function cautionSentence(input: DecisionReportInput): string {
  return chosenOption(input)?.kind === 'in-house'
    ? ' Roasting, lead and molten metal can do lasting harm: the cautions printed with a batch, local codes and permits go first.'
    : '';
}

function chosenBlocks(input: DecisionReportInput): Block[] {
  const chosen = chosenOption(input);
  if (chosen === undefined) return [];
  const { currency } = input;
  const { low, median, high } = rangeFigures(chosen.netValue);
  const sentences = [
    `${chosen.name} was expected to bring ${median} ${currency} after all costs (8 in 10: ${low} to ${high} ${currency}).`,
    `It needs ${formatEstimate(chosen.cashUpFront, 0)} ${currency} first and is paid after ${formatEstimate(chosen.daysUntilCash, 0)} days.`,
    `It loses money in ${saidChance(chosen.chanceOfLossFrac)}.`,
  ];
  return [{ kind: 'paragraph', text: sentences.join(' ') }];
}

/** The gravest first; how many more there were is said. */
function noticeBlocks({ findings, decision }: DecisionReportInput): Block[] {
  const grave = { blocker: 0, warning: 1, note: 2 };
  const all = [...findings, ...decision.reservations].toSorted((a, b) => grave[a.level] - grave[b.level]);
  const shown = findingNotices(all.slice(0, MOST_NOTICES));
  const more = all.length - shown.length;
  if (more === 0) return shown;
  return [
    ...shown,
    {
      kind: 'paragraph',
      text: `${more} more ${more === 1 ? 'remark stands' : 'remarks stand'} with the record of this decision.`,
    },
  ];
}

function netValueChart({ decision, currency, lotCode }: DecisionReportInput): Block {
  const chart: NetValueChart = {
    title: `Net value by option, lot ${lotCode}`,
    unit: currency,
    treatments: decision.options.slice(0, MOST_OPTIONS_DRAWN).map(({ name, netValue }, place) => ({
      name,
      low: netValue.p10,
      median: netValue.p50,
      high: netValue.p90,
      best: place === 0,
    })),
  };
  return chartBlock((width) => netValueByTreatment(chart, width), CHART_WIDTH_PT);
}

function outcomeBlocks({ outcomes }: DecisionReportInput): Block[] {
  return outcomes.slice(-MOST_OUTCOMES).map(({ batchCode, sentence }): Block => ({
    kind: 'paragraph',
    text: `What came of it, batch ${batchCode}: ${sentence}`,
  }));
}

const counted = (count: number, one: string): string => `${count} ${one}${count === 1 ? '' : 's'}`;

function restsOn(input: DecisionReportInput): Block {
  const assumed = assumedWords(input);
  const { testSmelts, labAssays } = input;
  return {
    kind: 'facts',
    facts: [
      { label: 'Gold in the lot', value: gradeText(input, 'Au') },
      { label: 'Silver in the lot', value: gradeText(input, 'Ag') },
      {
        label: 'Known from',
        value: `${counted(testSmelts, 'test smelt')}, ${counted(labAssays, 'lab assay')} of gold and silver`,
      },
      { label: 'Gold price', value: priceText(input, 'Au') },
      { label: 'Silver price', value: priceText(input, 'Ag') },
      {
        label: 'Assumed otherwise',
        value: assumed.length === 0 ? 'Nothing: as the records say' : assumed.join('; '),
      },
    ],
  };
}

function driverBlocks({ depth }: DecisionReportInput): Block[] {
  if (depth.drivers === null) return [];
  const { first, second, drivers } = depth.drivers;
  const of = second === null ? `net value of “${first}”` : `difference between “${first}” and “${second}”`;
  const chart = { title: `What the ${of} rests on`, drivers: drivers.slice(0, MOST_DRIVERS_DRAWN) };
  return [chartBlock((width) => driversOfDifference(chart, width), CHART_WIDTH_PT)];
}

function turnBlocks(input: DecisionReportInput): Block[] {
  const { between, alone } = input.depth;
  const gold = between?.breakEvens.find(({ id }) => id === 'price/Au');
  const stops = alone?.breakEvens.find(({ crossings }) => crossings.length > 0);
  const sentences = [
    ...(gold === undefined ? [] : [gold.sentence]),
    ...(alone === null
      ? []
      : [stops?.sentence ?? `Nothing that was looked at brings “${alone.first}” to zero.`]),
  ];
  const table = turnTable(input);
  return [
    ...(sentences.length === 0 ? [] : [{ kind: 'paragraph', text: sentences.join(' ') } as const]),
    ...(table === null ? [] : [table]),
  ];
}

function inquiryBlocks(input: DecisionReportInput): Block[] {
  const table = inquiryTable(input);
  if (table !== null) return [table];
  if (input.depth.information === null) return [];
  const nothing =
    input.depth.information.inquiries.length === 0
      ? 'Nothing was known yet of the gold and silver in this lot: any test would have been worth more than could be said.'
      : 'Nothing that could have been found out beforehand was worth a whole unit of money for this lot: hardly any answer would have changed the choice.';
  return [{ kind: 'paragraph', text: nothing }];
}
