import { sumOf } from './calc/money.ts';
import type { Metal } from './calc/evidence/lot-evidence.ts';
import { actualNetValue, type BatchFigures } from './month-batches.ts';
import { forecastAgainstActual, type ForecastAndActual } from '../reports/charts/forecast-against-actual.ts';
import { chartBlock } from '../reports/model/chart-block.ts';
import type { SeasonBatch, SeasonReportInput, SeasonSettlement } from '../reports/model/season-input.ts';

/** The width of a chart on paper. */
const CHART_WIDTH_PT = 480;
/** More rows than this nobody reads off a chart; the table has them all. */
const MOST_IN_CHART = 40;

/** Payable metal by the newest statement on each product; null while there is none or one does not say. */
function payableOzt({ statements }: BatchFigures, metal: Metal): string | null {
  const newest = [...new Map(statements.map((one) => [one.productId, one])).values()];
  const said = newest.flatMap((one) => one.payableOzt[metal] ?? []);
  return said.length === 0 || said.length < newest.length ? null : sumOf(said).toFixed();
}

/** A batch as the season's tables tell it. */
export function seasonBatch(figures: BatchFigures): SeasonBatch {
  const { batch, forecast } = figures;
  const range = (of: { p10: number; p50: number; p90: number } | undefined) =>
    of === undefined ? null : { p10: of.p10, p50: of.p50, p90: of.p90 };
  return {
    code: batch.code,
    lotCode: batch.lotCode,
    treatment: batch.treatmentName ?? `sold to ${batch.buyerName}`,
    dryMassKg: batch.dryMassKg,
    forecastNetValue: range(forecast?.shown.netValue),
    actualNetValue: actualNetValue(figures),
    forecastGoldOzt: range(forecast?.shown.goldPayableOzt),
    actualGoldOzt: payableOzt(figures, 'Au'),
    forecastSilverOzt: range(forecast?.shown.silverPayableOzt),
    actualSilverOzt: payableOzt(figures, 'Ag'),
  };
}

/** The statements of some batches in the order of their numbers. */
export function seasonSettlements(batches: readonly BatchFigures[]): SeasonSettlement[] {
  return batches
    .flatMap(({ statements }) => statements)
    .toSorted(
      (a, b) => a.number.length - b.number.length || (a.number < b.number ? -1 : Number(a.number > b.number)),
    )
    .map(({ number, stage, buyerName, issuedOn, brings, currency }) => ({
      number,
      stage,
      buyer: buyerName,
      issuedOn,
      amount: brings,
      currency,
    }));
}

/** How far what came lies outside the forecast's range or, within it, from its median; in the currency. */
function distance({ forecast, actual }: ForecastAndActual): number {
  if (forecast === null || actual === null) return -1;
  return Math.abs(actual - forecast.median);
}

/** Forecasts against what came: every batch, or of many the forty that came furthest from their forecasts. */
export function forecastChart(
  batches: readonly SeasonBatch[],
  currency: string,
): SeasonReportInput['charts'][number] {
  const all = batches.map(({ code, forecastNetValue, actualNetValue: actual }): ForecastAndActual => ({
    name: code,
    forecast: forecastNetValue && {
      low: forecastNetValue.p10,
      median: forecastNetValue.p50,
      high: forecastNetValue.p90,
    },
    actual: actual && Number(actual.amount),
  }));
  const isMany = all.length > MOST_IN_CHART;
  const furthest = all.toSorted((a, b) => distance(b) - distance(a)).slice(0, MOST_IN_CHART);
  return chartBlock(
    (width) =>
      forecastAgainstActual(
        {
          title: isMany
            ? `Net value, forecast against actual: the ${MOST_IN_CHART} of ${all.length} batches that came furthest from their forecasts`
            : 'Net value, forecast against actual',
          quantity: 'Net value',
          unit: currency,
          batches: isMany ? all.filter((one) => furthest.includes(one)) : all,
        },
        width,
      ),
    CHART_WIDTH_PT,
  );
}
