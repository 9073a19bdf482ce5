import type { TableBlock } from '../model/report.ts';
import type { Mark, Scene } from './scene.ts';
import { valueScale } from './axis.ts';
import { drawLanes, laneRemark, medianTick } from './lanes.ts';
import { notKnownText, placeOfTwoDigits, significantText, textAtPlace } from './number-text.ts';
import { emptyScene, finishScene, polygonPath, sceneMargin } from './scene-tools.ts';

/** One batch: what was forecast when it was planned, and what came; in the chart's unit. */
export interface ForecastAndActual {
  name: string;
  /** 10th, 50th and 90th percentile of the frozen forecast; null where none was made. */
  forecast: { low: number; median: number; high: number } | null;
  /** Null while the batch is not finished. */
  actual: number | null;
}

export interface ForecastChart {
  title: string;
  /** What is compared, for example `Gold poured`. */
  quantity: string;
  unit: string;
  batches: readonly ForecastAndActual[];
}

type Standing = 'not finished' | 'no forecast' | 'within range' | 'above range' | 'below range';

function standing({ forecast, actual }: ForecastAndActual): Standing {
  if (actual === null || !Number.isFinite(actual)) return 'not finished';
  if (forecast === null) return 'no forecast';
  if (actual < forecast.low) return 'below range';
  if (actual > forecast.high) return 'above range';
  return 'within range';
}

/** All figures of one batch, rounded alike to two significant digits of half the forecast's range. */
function figures({
  forecast,
  actual,
}: ForecastAndActual): Record<'low' | 'median' | 'high' | 'actual', string> {
  const place = forecast === null ? null : placeOfTwoDigits((forecast.high - forecast.low) / 2);
  const text = (value: number | null | undefined): string => {
    if (value === null || value === undefined) return notKnownText;
    return place === null ? significantText(value, 4) : textAtPlace(value, place);
  };
  return {
    low: text(forecast?.low),
    median: text(forecast?.median),
    high: text(forecast?.high),
    actual: text(actual),
  };
}

function rowSentence(batch: ForecastAndActual, unit: string): string {
  const { low, median, high, actual } = figures(batch);
  const forecast =
    batch.forecast === null
      ? 'no forecast'
      : `forecast ${median} ${unit} (10–90 %: ${low} to ${high} ${unit})`;
  const came = actual === notKnownText ? 'not finished' : `actual ${actual} ${unit}`;
  const where = standing(batch);
  return `${batch.name}: ${forecast}, ${came}${where.endsWith('range') ? `, ${where}` : ''}.`;
}

/**
 * Forecast against actual by batch: a bar over the forecast's 10–90 % range
 * with a tick at its median, and a diamond at what came. Where the actual
 * fell is also said in words.
 */
export function forecastAgainstActual(chart: ForecastChart, width: number): Scene {
  const { title, quantity, unit, batches } = chart;
  if (batches.length === 0) return emptyScene(title, width, 'No batch to compare yet.');
  const inset = 5;
  const left = sceneMargin + inset;
  const right = width - sceneMargin - inset;
  const scale = valueScale(
    batches.flatMap(({ forecast, actual }) => [
      forecast?.low ?? null,
      forecast?.median ?? null,
      forecast?.high ?? null,
      actual,
    ]),
    [left, right],
    { withZero: true },
  );

  function forecastMarks(forecast: NonNullable<ForecastAndActual['forecast']>, y: number): Mark[] {
    if (![forecast.low, forecast.median, forecast.high].every(Number.isFinite)) return [];
    return [
      {
        kind: 'rect',
        x: scale(forecast.low),
        y: y - 4,
        width: Math.max(0, scale(forecast.high) - scale(forecast.low)),
        height: 8,
        role: 'range',
        filled: true,
      },
      ...medianTick(scale(forecast.median), y, 7),
    ];
  }

  function diamond(actual: number, y: number): Mark {
    const x = scale(actual);
    const points = [
      [x, y - 5],
      [x + 5, y],
      [x, y + 5],
      [x - 5, y],
    ] as const;
    return { kind: 'path', d: polygonPath(points), role: 'ink', width: 1, filled: true };
  }

  const { marks, bottom } = drawLanes({
    lanes: batches.map((batch) => {
      const where = standing(batch);
      const { actual } = figures(batch);
      return {
        name: batch.name,
        note: actual === notKnownText ? where : `${actual} ${unit}, ${where}`,
        noteBold: where === 'above range' || where === 'below range',
      };
    }),
    panels: [
      {
        heading: '',
        left,
        scale,
        zeroLine: true,
        drawLane: (index, centerY) => {
          const batch = batches[index];
          if (batch === undefined) return [];
          const drawn = batch.forecast === null ? [] : forecastMarks(batch.forecast, centerY);
          if (batch.actual !== null && Number.isFinite(batch.actual))
            drawn.push(diamond(batch.actual, centerY));
          return drawn.length > 0
            ? drawn
            : [laneRemark('nothing to show', { left, zero: scale(0), right }, centerY)];
        },
      },
    ],
    top: sceneMargin,
    frameWidth: width,
    axisLabel: `${quantity}, ${unit}. Bar: forecast, 8 outcomes in 10; tick: its median; diamond: actual.`,
  });
  return finishScene({
    width,
    height: bottom,
    title,
    description: batches.map((batch) => rowSentence(batch, unit)).join(' '),
    marks,
  });
}

/** The same figures as a table. */
export function forecastAgainstActualTable(chart: ForecastChart): TableBlock {
  return {
    kind: 'table',
    caption: `${chart.title}: ${chart.quantity}, ${chart.unit}`,
    columns: [
      { key: 'name', label: 'Batch', align: 'start', weight: 3 },
      { key: 'low', label: 'Forecast, low (10\u00a0%)', align: 'end', weight: 1 },
      { key: 'median', label: 'Forecast, median', align: 'end', weight: 1 },
      { key: 'high', label: 'Forecast, high (90\u00a0%)', align: 'end', weight: 1 },
      { key: 'actual', label: 'Actual', align: 'end', weight: 1 },
      { key: 'standing', label: 'Standing', align: 'start', weight: 1.5 },
    ],
    rows: chart.batches.map((batch) => ({
      style: 'plain',
      cells: { name: batch.name, ...figures(batch), standing: standing(batch) },
    })),
  };
}
