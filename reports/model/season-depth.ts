import { figureOf } from '../../api/calc/books/book-entry.ts';
import { costsByKind, monthResult } from '../../api/calc/books/month-figures.ts';
import type { ForecastSplit } from '../../api/calc/books/split-forecast.ts';
import { Dec, sumOf } from '../../api/calc/money.ts';
import { formatAmount, formatDate, formatEstimate, formatRounded, NO_FIGURE } from './format.ts';
import type { MonthBatch } from './month-input.ts';
import { goldMadeG } from './month-words.ts';
import { inOwnerUnits } from './owner-units.ts';
import type { Block, TableBlock, TableRow } from './report.ts';
import type { Expected, SeasonDepth } from './season-depth-input.ts';
import { figure, text, total } from './table-parts.ts';

const paragraph = (words: string): Block => ({ kind: 'paragraph', text: words });
const heading = (words: string): Block => ({ kind: 'heading', text: words });

/** The whole mill in the season, by treatment, lot and buyer, why forecasts missed, what was decided, taught, and is open. */
export function seasonDepthBlocks(depth: SeasonDepth): Block[] {
  return [
    heading('The whole mill'),
    paragraph(
      'Days at the mill and expenses are in it, which the result above leaves out because no batch or statement carries them.',
    ),
    millTable(depth),
    costTable(depth),
    ...end(depth),
    heading('By treatment, lot and buyer'),
    groupTable(depth, 'Treatment', ({ treatment }) => treatment),
    groupTable(depth, 'Lot', ({ lotCode }) => lotCode),
    buyerTable(depth),
    ...differences(depth),
    ...decisions(depth),
    ...taught(depth),
    ...questions(depth),
  ];
}

function millTable({ figures, units, currency }: SeasonDepth): TableBlock {
  const shown = inOwnerUnits(units);
  const result = monthResult(figures);
  const row = (label: string, value: string): TableRow => ({ style: 'plain', cells: { label, value } });
  const money = (amount: string | null) => (amount === null ? NO_FIGURE : formatAmount(amount, 2));
  return {
    kind: 'table',
    caption: `The season so far; money in ${currency}`,
    columns: [text('label', 'What', 70), figure('value', 'Season', 30)],
    rows: [
      row('Days in the log', figureOf(figures, 'days').toFixed(0)),
      row('Feed, t dry', formatRounded(figureOf(figures, 'feedDryT').toFixed(), 1)),
      row(
        `Concentrate made, ${shown.massUnit} dry`,
        shown.mass(figureOf(figures, 'concentrateDryKg').toFixed()),
      ),
      row(
        `Treated in batches finished, ${shown.massUnit} dry`,
        shown.mass(figureOf(figures, 'treatedDryKg').toFixed()),
      ),
      row(`Gold in bars, beads and buttons made, ${shown.metalUnit}`, shown.metal(goldMadeG(figures))),
      row(
        `Gold settled, ${shown.metalUnit} payable`,
        shown.ounces(figureOf(figures, 'payableGoldOzt').toFixed()),
      ),
      row('Statements', money(result.settled)),
      row('All costs', money(new Dec(result.costs).negated().toFixed(2))),
      total({ label: 'Net value', value: money(result.netValue) }),
      row('Costs per dry tonne fed', money(result.perFedTonne)),
      row('Costs per troy ounce of gold made', money(result.perGoldOztMade)),
    ],
  };
}

function costTable({ figures, currency }: SeasonDepth): TableBlock {
  const costs = costsByKind(figures);
  const amount = (value: string) => formatAmount(value, 2);
  const rows = costs.map(({ kind, days, batches, other, total: all }): TableRow => ({
    style: 'plain',
    cells: { kind, days: amount(days), batches: amount(batches), other: amount(other), all: amount(all) },
  }));
  const sum = (of: (one: (typeof costs)[number]) => string) => amount(sumOf(costs.map(of)).toFixed(2));
  return {
    kind: 'table',
    caption: `All costs of the season by kind, ${currency}`,
    columns: [
      text('kind', 'Kind', 36),
      figure('days', 'Days', 16),
      figure('batches', 'Batches', 16),
      figure('other', 'Other', 16),
      figure('all', 'All', 16),
    ],
    rows:
      rows.length === 0
        ? []
        : [
            ...rows,
            total({
              kind: 'All costs',
              days: sum(({ days }) => days),
              batches: sum(({ batches }) => batches),
              other: sum(({ other }) => other),
              all: sum((one) => one.total),
            }),
          ],
  };
}

function end({ end: atEnd, currency }: SeasonDepth): Block[] {
  if (atEnd === null) return [];
  const { netValue, quantities, completeMonths } = atEnd;
  const put = (value: number) => formatEstimate(value, 0);
  return [
    heading('Budget and the season’s end'),
    paragraph(
      `At its end the season is forecast at ${put(netValue.p50)} ${currency}, in 8 chances of 10 between ${put(netValue.p10)} and ${put(netValue.p90)}: ${put(netValue.toDate)} to date, ${put(netValue.fromBatches)} from batches planned or not settled yet and from what buyers hold back, less ${put(netValue.costsLeft)} of costs that belong to no batch. Batches that nobody has planned yet are not in it. ${
        completeMonths >= 2
          ? `The range comes from how ${completeMonths} complete months varied and from the forecasts of the batches.`
          : 'Fewer than two months are complete, so the costs to come stand as budgeted, ± half.'
      }`,
    ),
    ...(quantities.every(({ budget }) => budget === 0)
      ? [
          paragraph(
            'No budget is entered for the season, so feed, concentrate and treatment have no forecast.',
          ),
        ]
      : [quantityTable(quantities)]),
  ];
}

function quantityTable(quantities: NonNullable<SeasonDepth['end']>['quantities']): TableBlock {
  return {
    kind: 'table',
    caption: 'Budget, what was done, and the season’s end as it is forecast (8 chances in 10)',
    columns: [
      text('label', 'What', 32),
      figure('budget', 'Budget', 17),
      figure('done', 'Done', 17),
      figure('p10', 'End, 1 in 10 below', 17),
      figure('p90', 'End, 1 in 10 above', 17),
    ],
    rows: quantities.map(({ label, unit, done, budget, end: range }): TableRow => ({
      style: 'plain',
      cells: {
        label: `${label}, ${unit}`,
        budget: formatEstimate(budget, 1),
        done: formatEstimate(done, 1),
        p10: formatEstimate(range.p10, 1),
        p90: formatEstimate(range.p90, 1),
      },
    })),
  };
}

function groupTable(
  { batches, currency, units }: SeasonDepth,
  name: string,
  keyOf: (batch: MonthBatch) => string,
): TableBlock {
  const shown = inOwnerUnits(units);
  const keys = [...new Set(batches.map(keyOf))].toSorted();
  return {
    kind: 'table',
    caption: `By ${name.toLowerCase()}: batches finished or settled; metal in ${shown.metalUnit}, money in ${currency}`,
    columns: [
      text('key', name, 30),
      figure('count', 'Batches', 10),
      figure('mass', `${shown.massUnit} dry`, 12),
      figure('goldIn', 'Gold in', 12),
      figure('goldOut', 'Gold out', 12),
      figure('recovery', 'Recovery', 10),
      figure('net', 'Net value', 14),
    ],
    rows: keys.map((key): TableRow => {
      const own = batches.filter((batch) => keyOf(batch) === key);
      const smelted = own.filter(
        ({ isSale, metals }) => !isSale && metals.Au.inG !== null && metals.Au.outG !== null,
      );
      const inG = smelted.reduce((sum, { metals }) => sum + (metals.Au.inG?.value ?? 0), 0);
      const outG = smelted.reduce((sum, { metals }) => sum + (metals.Au.outG?.value ?? 0), 0);
      const settled = own.flatMap(({ actualNetValue }) => (actualNetValue ? [actualNetValue.amount] : []));
      return {
        style: 'plain',
        cells: {
          key,
          count: String(own.length),
          mass: shown.mass(own.reduce((sum, { dryMassKg }) => sum + Number(dryMassKg), 0)),
          goldIn: smelted.length === 0 ? NO_FIGURE : shown.metal(inG),
          goldOut: smelted.length === 0 ? NO_FIGURE : shown.metal(outG),
          recovery: inG > 0 ? `${formatEstimate((100 * outG) / inG, 1)} %` : NO_FIGURE,
          net: settled.length === 0 ? 'not settled' : formatAmount(sumOf(settled).toFixed(2), 2),
        },
      };
    }),
  };
}

function buyerTable({ buyers, currency, units }: SeasonDepth): TableBlock {
  const shown = inOwnerUnits(units);
  return {
    kind: 'table',
    caption: `By buyer: statements, ${currency}, and payable metal, ${shown.metalUnit}`,
    columns: [
      text('name', 'Buyer', 36),
      figure('statements', 'Statements', 14),
      figure('amount', 'Amount', 18),
      figure('gold', 'Gold', 16),
      figure('silver', 'Silver', 16),
    ],
    rows: buyers.map((one): TableRow => ({
      style: 'plain',
      cells: {
        name: one.name,
        statements: String(one.statements),
        amount: formatAmount(one.amount, 2),
        gold: shown.ounces(one.payableGoldOzt),
        silver: shown.ounces(one.payableSilverOzt),
      },
    })),
  };
}

const CAUSES: [key: keyof ForecastSplit, label: string][] = [
  ['massEffect', 'Mass'],
  ['gradeEffect', 'Grade'],
  ['recoveryEffect', 'Recovery'],
  ['priceEffect', 'Price'],
  ['costEffect', 'Cost'],
  ['otherEffect', 'Charges'],
];

/** Why the settled batches brought more or less than the means of their forecasts. */
function differences({ batches, currency }: SeasonDepth): Block[] {
  const split = batches.flatMap(({ code, split: one }) => (one === null ? [] : [{ code, one }]));
  if (split.length === 0) return [];
  const cells = (of: (key: keyof ForecastSplit) => string): Record<string, string> =>
    Object.fromEntries(
      [...CAUSES, ['total', 'Difference'] as const].map(([key]) => [key, formatAmount(of(key), 2)]),
    );
  return [
    heading('Why forecasts missed'),
    {
      kind: 'table',
      caption: `Net value less the mean of its forecast, by cause, ${currency}`,
      columns: [
        text('batch', 'Batch', 14),
        ...CAUSES.map(([key, label]) => figure(key, label, 12)),
        figure('total', 'Difference', 14),
      ],
      rows: [
        ...split.map(({ code, one }): TableRow => ({
          style: 'plain',
          cells: { batch: code, ...cells((key) => one[key]) },
        })),
        total({
          batch: 'All',
          ...cells((key) => sumOf(split.map(({ one }) => one[key])).toFixed(2)),
        }),
      ],
    },
  ];
}

function decisions({ decisions: recorded }: SeasonDepth): Block[] {
  if (recorded.length === 0) return [];
  return [
    heading('Which decisions were right'),
    {
      kind: 'table',
      caption: 'Recorded decisions by what their batches have brought',
      columns: [
        text('lot', 'Lot', 14),
        text('on', 'Decided on', 18),
        text('chosen', 'Chosen', 40),
        text('verdict', 'By what is known', 28),
      ],
      rows: recorded.map(({ lotCode, decidedOn, chosen, verdict, sentence }): TableRow => ({
        style: 'plain',
        cells: { lot: lotCode, on: formatDate(decidedOn), chosen, verdict },
        ...(sentence === '' ? {} : { detail: sentence }),
      })),
    },
  ];
}

const expected = ({ mean, sd }: Expected): string =>
  `${formatEstimate(100 * mean, 1)} ± ${formatEstimate(200 * sd, 1)} %`;

function taught({ taught: learnt }: SeasonDepth): Block[] {
  if (learnt.length === 0) return [];
  return [
    heading('What the season taught'),
    {
      kind: 'table',
      caption:
        'Recovery of gold to be expected on a new lot, ± with coverage factor 2, before the season and now',
      columns: [
        text('treatment', 'Treatment', 36),
        figure('before', 'Before', 22),
        figure('now', 'Now', 22),
        figure('lots', 'Lots tested, before and now', 20),
      ],
      rows: learnt.map(({ treatment, before, now, lotsBefore, lotsNow }): TableRow => ({
        style: 'plain',
        cells: {
          treatment,
          before: expected(before),
          now: expected(now),
          lots: `${lotsBefore}, ${lotsNow}`,
        },
      })),
    },
  ];
}

function questions({ questions: open }: SeasonDepth): Block[] {
  return open.length === 0 ? [] : [heading('What to find out next'), ...open.map(paragraph)];
}
