import { Dec } from '../../api/calc/money.ts';
import { gramsPerTroyOunce } from '../../api/calc/units.ts';
import {
  formatAmount,
  formatDecimal,
  formatEstimate,
  formatRange,
  NO_FIGURE,
  sumAsPrinted,
  sumText,
} from './format.ts';
import type { TableBlock, TableRow } from './report.ts';
import type { ForecastRange, SeasonBatch, SeasonLot, SeasonReportInput } from './season-input.ts';
import { STAGE_WORDS } from './statement-words.ts';
import { figure, text, total } from './table-parts.ts';

/** Masses of lots print to the gram: no scale for lots says more, and the columns still add up. */
const MASS_DECIMALS = 3;
const toTheGram = (kg: string): string => {
  const exact = new Dec(kg);
  return exact.decimalPlaces() <= MASS_DECIMALS ? kg : exact.toDecimalPlaces(MASS_DECIMALS).toFixed();
};

export function lotTable(lots: SeasonLot[]): TableBlock {
  const sum = (key: 'dryMassKg' | 'takenKg' | 'leftKg') =>
    formatDecimal(sumAsPrinted(lots.map((lot) => toTheGram(lot[key]))));
  const rows = lots.map((lot): TableRow => ({
    style: 'plain',
    cells: {
      code: lot.code,
      dryMassKg: formatDecimal(toTheGram(lot.dryMassKg)),
      takenKg: formatDecimal(toTheGram(lot.takenKg)),
      leftKg: formatDecimal(toTheGram(lot.leftKg)),
      gold: lot.goldGpt === null ? NO_FIGURE : formatRange(lot.goldGpt),
      silver: lot.silverGpt === null ? NO_FIGURE : formatRange(lot.silverGpt),
    },
    ...(lot.description === '' ? {} : { detail: lot.description }),
  }));
  const sums = { dryMassKg: sum('dryMassKg'), takenKg: sum('takenKg'), leftKg: sum('leftKg') };
  return {
    kind: 'table',
    caption: 'Grades by all tests and assays together, the median and the range of 8 chances in 10',
    columns: [
      text('code', 'Lot', 16),
      figure('dryMassKg', 'Made, kg dry', 13),
      figure('takenKg', 'Taken, kg dry', 13),
      figure('leftKg', 'Left, kg dry', 13),
      figure('gold', 'Gold, g/t', 20),
      figure('silver', 'Silver, g/t', 20),
    ],
    rows: lots.length === 0 ? [] : [...rows, total({ code: 'All lots', ...sums })],
  };
}

/** Where what came lies against the forecast's 10–90 % range. */
export function standing(forecast: ForecastRange | null, actual: string | null): string {
  if (actual === null) return 'not yet known';
  if (forecast === null) return 'no forecast';
  if (new Dec(actual).lessThan(forecast.p10)) return 'below range';
  return new Dec(actual).greaterThan(forecast.p90) ? 'above range' : 'within range';
}

const FORECAST_COLUMNS = [
  figure('p10', 'Forecast, 1 in 10 below', 13),
  figure('p50', 'Forecast, median', 13),
  figure('p90', 'Forecast, 1 in 10 above', 13),
];

function forecastCells(forecast: ForecastRange | null, decimals: number): Record<string, string> {
  const cell = (value: number | undefined) =>
    value === undefined ? NO_FIGURE : formatEstimate(value, decimals);
  return { p10: cell(forecast?.p10), p50: cell(forecast?.p50), p90: cell(forecast?.p90) };
}

export function valueTable({ batches, currency, moneyDecimals }: SeasonReportInput): TableBlock {
  const amount = (value: string) => formatAmount(value, moneyDecimals);
  const rows = batches.map(
    ({ code, lotCode, treatment, dryMassKg, forecastNetValue, actualNetValue }): TableRow => ({
      style: 'plain',
      cells: {
        batch: code,
        dryMassKg: formatDecimal(dryMassKg),
        ...forecastCells(forecastNetValue, 0),
        actual: actualNetValue === null ? NO_FIGURE : amount(actualNetValue.amount),
        stage: actualNetValue === null ? '' : STAGE_WORDS[actualNetValue.stage],
        standing: standing(forecastNetValue, actualNetValue?.amount ?? null),
      },
      detail: `Lot ${lotCode}; ${treatment}`,
    }),
  );
  const actuals = batches.flatMap(({ actualNetValue }) =>
    actualNetValue === null ? [] : [actualNetValue.amount],
  );
  const sums = total({
    batch: 'All batches',
    dryMassKg: formatDecimal(sumAsPrinted(batches.map((batch) => batch.dryMassKg))),
    actual: amount(sumText(actuals)),
    standing: `${actuals.length} of ${batches.length} known`,
  });
  return {
    kind: 'table',
    caption: `Net value of each batch, ${currency}`,
    columns: [
      text('batch', 'Batch', 13),
      figure('dryMassKg', 'kg dry', 11),
      ...FORECAST_COLUMNS,
      figure('actual', 'Actual', 15),
      text('stage', 'Stage', 14),
      text('standing', 'Standing', 16),
    ],
    rows: batches.length === 0 ? [] : [...rows, sums],
  };
}

/** Metal forecast and got in the owner's unit, gold first, then silver. */
export function metalTable(batches: SeasonBatch[], metalUnit: SeasonReportInput['metalUnit']): TableBlock {
  const inGrams = metalUnit === 'g';
  const perOzt = inGrams ? gramsPerTroyOunce : 1;
  // As many decimals as statements pay metal by; what is judged is what is printed.
  const decimals = inGrams ? 1 : 3;
  const printed = (ounces: number): number => Number((ounces * perOzt).toFixed(decimals));
  const shownRange = (range: ForecastRange | null): ForecastRange | null =>
    range && { p10: printed(range.p10), p50: printed(range.p50), p90: printed(range.p90) };
  const shown = (ounces: string | null): string | null =>
    ounces === null || !inGrams ? ounces : new Dec(ounces).times(gramsPerTroyOunce).toFixed(1);
  const section = (
    name: string,
    forecastOf: (batch: SeasonBatch) => ForecastRange | null,
    actualOf: (batch: SeasonBatch) => string | null,
  ): TableRow[] => {
    const actuals = batches.flatMap((batch) => shown(actualOf(batch)) ?? []);
    return [
      { style: 'section', cells: { batch: name } },
      ...batches.map((batch): TableRow => {
        const actual = shown(actualOf(batch));
        const forecast = shownRange(forecastOf(batch));
        return {
          style: 'plain',
          cells: {
            batch: batch.code,
            ...forecastCells(forecast, decimals),
            actual: actual === null ? NO_FIGURE : formatDecimal(actual),
            standing: standing(forecast, actual),
          },
        };
      }),
      {
        style: 'subtotal',
        cells: {
          batch: `${name} in all`,
          actual: formatDecimal(sumAsPrinted(actuals)),
          standing: `${actuals.length} of ${batches.length} known`,
        },
      },
    ];
  };
  return {
    kind: 'table',
    caption: `Gold and silver of each batch, ${inGrams ? 'grams' : 'troy ounces'}`,
    columns: [
      text('batch', 'Batch', 22),
      ...FORECAST_COLUMNS,
      figure('actual', 'Actual', 14),
      text('standing', 'Standing', 18),
    ],
    rows:
      batches.length === 0
        ? []
        : [
            ...section(
              'Gold',
              (batch) => batch.forecastGoldOzt,
              (batch) => batch.actualGoldOzt,
            ),
            ...section(
              'Silver',
              (batch) => batch.forecastSilverOzt,
              (batch) => batch.actualSilverOzt,
            ),
          ],
  };
}
