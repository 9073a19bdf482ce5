import { saidChance } from '../../api/calc/economics/decision-sentence.ts';
import { pricedInquiries } from '../../api/calc/facts/inquiries.ts';
import { significantText } from '../charts/number-text.ts';
import type { DecisionReportInput } from './decision-input.ts';
import { rangeFigures } from './decision-words.ts';
import { formatEstimate } from './format.ts';
import type { TableBlock, TableRow } from './report.ts';
import { figure, text } from './table-parts.ts';

/** So many options, turning points and inquiries fit on two pages beside the pictures. */
const MOST_OPTIONS = 6;
const MOST_TURNS = 4;
const MOST_INQUIRIES = 3;

const capital = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);

/** Every option beside the others, best expected net value first, the chosen one marked. */
export function optionTable({ decision, chosenId, currency }: DecisionReportInput): TableBlock {
  const chosenPlace = decision.options.findIndex((option) => option.id === chosenId);
  const shown = decision.options.filter((_, place) => place < MOST_OPTIONS || place === chosenPlace);
  const left = decision.options.length - shown.length;
  return {
    kind: 'table',
    caption: `Options side by side, ${currency} for the whole mass; 8 outcomes in 10 lie from low to high${left === 0 ? '' : `; ${left} more that bring less are left out`}`,
    columns: [
      text('name', 'Option', 28),
      figure('low', 'Low', 9),
      figure('median', 'Median', 9),
      figure('high', 'High', 9),
      figure('best', 'Is the best in', 22),
      figure('cash', 'Cash needed first', 12),
      figure('days', 'Days until cash', 11),
    ],
    rows: shown.map((option): TableRow => {
      const { low, median, high } = rangeFigures(option.netValue);
      return {
        style: 'plain',
        cells: {
          name: option.id === chosenId ? `${option.name} (chosen)` : option.name,
          low,
          median,
          high,
          best: saidChance(option.chanceBestFrac),
          cash: formatEstimate(option.cashUpFront, 0),
          days: formatEstimate(option.daysUntilCash, 0),
        },
      };
    }),
  };
}

/** Where the two best options change places, the nearest first. */
export function turnTable({ depth }: DecisionReportInput): TableBlock | null {
  if (depth.between === null || depth.between.second === null) return null;
  const { first, second, breakEvens } = depth.between;
  const turning = breakEvens.filter(({ crossings }) => crossings.length > 0).slice(0, MOST_TURNS);
  if (turning.length === 0) return null;
  return {
    kind: 'table',
    caption: `Where “${second}” overtakes “${first}”, all else as it is; the nearest first`,
    columns: [
      text('what', 'What', 50),
      figure('turn', 'Turns at', 14),
      figure('now', 'Now', 14),
      text('unit', 'Unit', 22),
    ],
    rows: turning.map(({ label, crossings, today, unit }) => ({
      style: 'plain',
      cells: {
        what: capital(label),
        turn: crossings.map((crossing) => significantText(crossing, 3)).join(' and '),
        now: significantText(today, 3),
        unit,
      },
    })),
  };
}

/** What finding out was worth before its cost, at the costs typed; null where it was worth nothing. */
export function inquiryTable({ depth, inquiryCosts, currency }: DecisionReportInput): TableBlock | null {
  const ranked = pricedInquiries(depth.information?.inquiries ?? [], inquiryCosts, { currency })
    .filter(({ value }) => value >= 0.5)
    .slice(0, MOST_INQUIRIES);
  if (ranked.length === 0) return null;
  return {
    kind: 'table',
    caption: `What finding out would have been worth for this lot, ${currency}`,
    columns: [
      text('name', 'What to find out', 50),
      figure('value', 'Worth about', 14),
      figure('cost', 'Costs', 12),
      figure('gain', 'Left after its cost', 18),
    ],
    rows: ranked.map(({ name, value, cost, netGain }) => ({
      style: 'plain',
      cells: {
        name,
        value: formatEstimate(value, 0),
        cost: formatEstimate(cost, 0),
        gain: formatEstimate(netGain, 0),
      },
    })),
  };
}
