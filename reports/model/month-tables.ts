import { figureOf, type Figures } from '../../api/calc/books/book-entry.ts';
import { formatAmount, formatEstimate, formatRounded, NO_FIGURE } from './format.ts';
import type { MonthReportInput } from './month-input.ts';
import { inOwnerUnits, percentWithSpread } from './owner-units.ts';
import { STAGE_WORDS } from './statement-words.ts';
import type { TableBlock, TableRow } from './report.ts';
import { standing } from './season-tables.ts';
import { figure, text } from './table-parts.ts';

/** Days, feed and concentrate, the month beside the year to date. */
export function feedTable({ figures, units }: MonthReportInput): TableBlock {
  const shown = inOwnerUnits(units);
  const row = (label: string, value: (of: Figures) => string): TableRow => ({
    style: 'plain',
    cells: { label, month: value(figures.month), year: value(figures.year) },
  });
  const plain = (name: string, decimals: number) => (of: Figures) =>
    formatRounded(figureOf(of, name).toFixed(), decimals);
  return {
    kind: 'table',
    caption: 'Feed and concentrate',
    columns: [text('label', 'What', 50), figure('month', 'Month', 25), figure('year', 'Year to date', 25)],
    rows: [
      row('Days in the log', plain('days', 0)),
      row('Hours run', plain('hoursRun', 1)),
      row('Feed, t wet', plain('feedWetT', 1)),
      row('Feed, t dry', plain('feedDryT', 1)),
      row(`Concentrate made, ${shown.massUnit} dry`, (of) =>
        shown.mass(figureOf(of, 'concentrateDryKg').toFixed()),
      ),
      row('Lots made', plain('lots', 0)),
      row(`Lots made, ${shown.massUnit} dry`, (of) => shown.mass(figureOf(of, 'lotDryKg').toFixed())),
      row(`Treated in batches finished, ${shown.massUnit} dry`, (of) =>
        shown.mass(figureOf(of, 'treatedDryKg').toFixed()),
      ),
      row(`Made up for sale as concentrate, ${shown.massUnit} dry`, (of) =>
        shown.mass(figureOf(of, 'soldDryKg').toFixed()),
      ),
      row('Furnace hours', plain('furnaceHours', 1)),
      row('Hours of people in batches', plain('batchLabourHours', 1)),
      row('Hours of people on days', plain('dayLabourHours', 1)),
    ],
  };
}

/** What went into the batches finished and what came out of them. */
export function recoveryTable({ batches, units }: MonthReportInput): TableBlock {
  const shown = inOwnerUnits(units);
  const rows = batches
    .filter(({ finishedInMonth, isSale }) => finishedInMonth && !isSale)
    .flatMap((batch): TableRow[] =>
      (['Au', 'Ag'] as const).map((metal, at) => {
        const { inG, outG, recoveryFrac, forecastRecoveryFrac } = batch.metals[metal];
        return {
          style: 'plain',
          cells: {
            batch: at === 0 ? batch.code : '',
            dryMass: at === 0 ? shown.mass(batch.dryMassKg) : '',
            metal: metal === 'Au' ? 'gold' : 'silver',
            in: shown.metalWithSpread(inG),
            out: shown.metalWithSpread(outG),
            recovery: percentWithSpread(recoveryFrac),
            forecast: percentWithSpread(forecastRecoveryFrac),
          },
          ...(at === 0 ? {} : { detail: `Lot ${batch.lotCode}; ${batch.treatment}` }),
        };
      }),
    );
  return {
    kind: 'table',
    caption: `Batches finished: metal in by the lot’s grade, out by the products’ assays, ${shown.metalUnit}, ± with coverage factor 2`,
    columns: [
      text('batch', 'Batch', 11),
      figure('dryMass', `${shown.massUnit} dry`, 10),
      text('metal', 'Metal', 9),
      figure('in', 'In', 18),
      figure('out', 'Out', 18),
      figure('recovery', 'Recovery', 17),
      figure('forecast', 'Forecast', 17),
    ],
    rows,
  };
}

/** Forecast and actual of the batches settled in the month, with why they differ. */
export function differenceTable({ batches, currency }: MonthReportInput): TableBlock {
  const rows = batches
    .filter(({ settledInMonth }) => settledInMonth)
    .map((batch): TableRow => {
      const { split, actualNetValue, forecastNetValue } = batch;
      const part = (amount: string | undefined): string =>
        amount === undefined ? NO_FIGURE : formatAmount(amount, 2);
      return {
        style: 'plain',
        cells: {
          batch: batch.code,
          actual: actualNetValue === null ? NO_FIGURE : formatAmount(actualNetValue.amount, 2),
          difference: part(split?.total),
          mass: part(split?.massEffect),
          grade: part(split?.gradeEffect),
          recovery: part(split?.recoveryEffect),
          price: part(split?.priceEffect),
          cost: part(split?.costEffect),
          other: part(split?.otherEffect),
        },
        detail:
          forecastNetValue === null
            ? 'No forecast was kept.'
            : `Forecast ${formatEstimate(forecastNetValue.p10, 0)} to ${formatEstimate(forecastNetValue.p90, 0)} in 8 chances of 10: ${standing(forecastNetValue, actualNetValue?.amount ?? null)}${
                actualNetValue === null ? '' : `, by a ${STAGE_WORDS[actualNetValue.stage]} statement`
              }.${split === null ? ' Why they differ cannot be told: a grade or a recovery is not known.' : ''}`,
      };
    });
  return {
    kind: 'table',
    caption: `Batches with a statement this month, ${currency}: net value, and what made it differ from the mean of its forecast`,
    columns: [
      text('batch', 'Batch', 9),
      figure('actual', 'Net value', 13),
      figure('difference', 'Difference', 13),
      figure('mass', 'Mass', 11),
      figure('grade', 'Grade', 11),
      figure('recovery', 'Recovery', 11),
      figure('price', 'Price', 11),
      figure('cost', 'Cost', 10),
      figure('other', 'Charges', 11),
    ],
    rows,
  };
}
