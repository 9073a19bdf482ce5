import { Dec } from '../../api/calc/money.ts';
import { formatDate, formatRounded, NO_FIGURE } from './format.ts';
import type { MonthReportInput } from './month-input.ts';
import { monthWords } from './month-words.ts';
import type { TableBlock, TableRow } from './report.ts';
import { figure, text } from './table-parts.ts';

/** Figures as they are named in corrections. */
const FIGURE_WORDS: Record<string, string> = {
  feedWetT: 'feed, t wet',
  feedDryT: 'feed, t dry',
  concentrateDryKg: 'concentrate, kg dry',
  hoursRun: 'hours run',
  dayLabourHours: 'hours of people',
  days: 'days',
  lots: 'lots',
  lotDryKg: 'lot, kg dry',
  testSmeltKg: 'test smelt, kg',
  inWorkDryKg: 'into work, kg dry',
  treatedDryKg: 'treated, kg dry',
  soldDryKg: 'for sale, kg dry',
  batches: 'batches',
  furnaceHours: 'furnace hours',
  batchLabourHours: 'hours of people',
  leadInKg: 'lead in, kg',
  leadBackKg: 'lead back, kg',
  statements: 'statements',
  settled: 'settled',
  payableGoldOzt: 'payable gold, ozt',
  payableSilverOzt: 'payable silver, ozt',
  paid: 'received',
  concentrateBought: 'concentrate bought',
  stockDifference: 'stock difference',
};

/** Numbers of entries: left out where other figures of the same entry tell more. */
const COUNTED = new Set(['days', 'lots', 'batches', 'statements']);

function figureWords(name: string): string {
  const [group, kind, what] = name.split('/');
  if (kind === undefined) return FIGURE_WORDS[name] ?? name;
  if (group === 'dayCost' || group === 'batchCost') return 'cost';
  if (group === 'bought') return 'bought';
  if (group === 'expense') return 'expense';
  if (group === 'writtenOff') return 'written off, kg';
  const of = what === 'goldG' ? 'gold, g' : what === 'silverG' ? 'silver, g' : 'mass, kg';
  return `${kind} ${group}, ${of}`;
}

/** Entries of closed months that changed, each figure with what it was, what it is and the difference. */
export function correctionTable({
  corrections,
  currency,
}: Pick<MonthReportInput, 'corrections' | 'currency'>): TableBlock {
  const show = (name: string, value: string | undefined): string =>
    value === undefined
      ? NO_FIGURE
      : formatRounded(
          value,
          COUNTED.has(name) ? 0 : Math.min(6, Math.max(2, new Dec(value).decimalPlaces())),
        );
  return {
    kind: 'table',
    caption: `Corrections of closed months; money in ${currency}`,
    columns: [
      text('label', 'What', 30),
      text('corrects', 'Corrects', 16),
      text('figure', 'Figure', 18),
      figure('was', 'Was', 12),
      figure('is', 'Is', 12),
      figure('difference', 'Difference', 12),
    ],
    rows: corrections.flatMap((one): TableRow[] => {
      const names = Object.keys(one.difference);
      const told = names.filter((name) => !COUNTED.has(name) || names.every((one) => COUNTED.has(one)));
      return told.map((name, at) => ({
        style: 'plain',
        cells: {
          label: at === 0 ? one.label : '',
          corrects: at === 0 ? monthWords(one.corrects) : '',
          figure: figureWords(name),
          was: show(name, one.was[name]),
          is: show(name, one.is[name]),
          difference: show(name, one.difference[name]),
        },
        ...(at === told.length - 1
          ? {
              detail:
                one.changedOn === null
                  ? 'It follows from other changes, such as the average cost of a supply.'
                  : `Changed on ${formatDate(one.changedOn)}${one.changedBy === null ? '' : ` by ${one.changedBy}`}.`,
            }
          : {}),
      }));
    }),
  };
}
