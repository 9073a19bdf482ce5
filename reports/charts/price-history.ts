import { scaleUtc } from 'd3-scale';
import { line } from 'd3-shape';
import type { TableBlock } from '../model/report.ts';
import type { Mark, Scene } from './scene.ts';
import { fittingTicks, tickSizePt, valueScale } from './axis.ts';
import { dateMarks, dayMs, timeOf } from './date-axis.ts';
import { nameSizePt } from './lanes.ts';
import { significantText } from './number-text.ts';
import { emptyScene, finishScene, fitText, sceneMargin, textWidth } from './scene-tools.ts';

export interface PriceHistoryChart {
  title: string;
  /** How its line is drawn; `ink` for every other metal. */
  metal: 'gold' | 'silver' | 'ink';
  /** For example `USD/ozt`. */
  unit: string;
  /** Daily quotations, ISO dates; any order. */
  quotations: readonly { date: string; price: number }[];
  /** A quotational period to mark, with its mean where it is known. */
  period: { label: string; from: string; to: string; mean: number | null } | null;
}

/** How far under the frame a period's bar stands. */
const periodBarPt = 21;
function sortedQuotations(chart: PriceHistoryChart): { date: string; time: number; price: number }[] {
  return chart.quotations
    .map(({ date, price }) => ({ date, time: timeOf(date), price }))
    .filter(({ time, price }) => Number.isFinite(time) && Number.isFinite(price))
    .toSorted((a, b) => a.time - b.time);
}

/**
 * Price history of one metal: a line through the daily quotations, the last
 * one marked and named, the quotational period marked with its mean dashed.
 * The scale does not start at zero.
 */
export function priceHistory(chart: PriceHistoryChart, width: number): Scene {
  const { title, metal, unit, period } = chart;
  const quotations = sortedQuotations(chart);
  const first = quotations[0];
  const last = quotations.at(-1);
  if (first === undefined || last === undefined)
    return emptyScene(title, width, 'No quotations entered yet.');

  const top = 24;
  const bottom = top + 120;
  const right = width - sceneMargin - 4;
  const values = valueScale([...quotations.map(({ price }) => price), period?.mean ?? null], [bottom, top], {
    withZero: false,
  });
  const valueTicks = fittingTicks(values, bottom - top, true);
  const left = sceneMargin + Math.max(0, ...valueTicks.map(({ label }) => textWidth(label, tickSizePt))) + 6;
  const periodTimes = period === null ? [] : [timeOf(period.from), timeOf(period.to)];
  const start = Math.min(first.time, ...periodTimes.filter(Number.isFinite));
  const end = Math.max(last.time, ...periodTimes.filter(Number.isFinite));
  const padMs = start === end ? dayMs : 0;
  const times = scaleUtc()
    .domain([start - padMs, end + padMs])
    .range([left, right]);
  const spanDays = (end - start + 2 * padMs) / dayMs;

  const marks: Mark[] = [
    {
      kind: 'text',
      x: sceneMargin,
      y: 12,
      text: fitText(unit, width - 2 * sceneMargin, tickSizePt),
      sizePt: tickSizePt,
      role: 'muted',
      anchor: 'start',
    },
  ];
  const hasPeriod = period !== null && periodTimes.every(Number.isFinite);
  if (hasPeriod) marks.push(...periodMarks(period, times, values, { top, bottom, width }));
  for (const { value, label } of valueTicks) {
    const y = values(value);
    marks.push(
      { kind: 'line', x1: left, y1: y, x2: right, y2: y, role: 'grid', width: 0.6 },
      {
        kind: 'text',
        x: left - 5,
        y: y + 3,
        text: label,
        sizePt: tickSizePt,
        role: 'muted',
        anchor: 'end',
      },
    );
  }
  marks.push(...dateMarks(times, bottom, spanDays, left, width));
  const path = line<{ time: number; price: number }>(
    ({ time }) => times(time),
    ({ price }) => values(price),
  ).digits(1)(quotations);
  if (path !== null && quotations.length > 1) {
    marks.push({ kind: 'path', d: path, role: metal, width: 1.6, filled: false });
  }
  const lastX = times(last.time);
  const lastLabel = `${significantText(last.price, 6)} ${unit}`;
  const half = textWidth(lastLabel, nameSizePt, true) / 2;
  marks.push(
    { kind: 'circle', x: lastX, y: values(last.price), radius: 3.2, role: metal, filled: true },
    {
      kind: 'text',
      x: Math.min(Math.max(lastX, half + 1), width - half - 1),
      y: 13,
      text: fitText(lastLabel, width - 2 * sceneMargin, nameSizePt, true),
      sizePt: nameSizePt,
      role: 'ink',
      anchor: 'middle',
      bold: true,
    },
  );
  const prices = quotations.map(({ price }) => price);
  const mean =
    period === null || period.mean === null
      ? ''
      : ` Mean over ${period.label}: ${significantText(period.mean, 6)} ${unit}.`;
  return finishScene({
    width,
    height: bottom + (hasPeriod ? periodBarPt + 18 : 20),
    title,
    description:
      `${quotations.length} quotations from ${first.date} to ${last.date}, between ` +
      `${significantText(Math.min(...prices), 6)} and ${significantText(Math.max(...prices), 6)} ${unit}; ` +
      `last ${lastLabel}.${mean}`,
    marks,
  });
}

/** The quotational period as a bar under the dates with its name, its ends carried up as dashed lines, its mean dashed across. */
function periodMarks(
  period: NonNullable<PriceHistoryChart['period']>,
  times: (time: number) => number,
  values: (price: number) => number,
  frame: { top: number; bottom: number; width: number },
): Mark[] {
  const from = Math.min(times(timeOf(period.from)), times(timeOf(period.to)));
  const to = Math.max(times(timeOf(period.from)), times(timeOf(period.to)));
  const label = fitText(period.label, frame.width - 2 * sceneMargin, tickSizePt);
  const labelWidth = textWidth(label, tickSizePt);
  const end = (x: number): Mark => ({
    kind: 'line',
    x1: x,
    y1: frame.top,
    x2: x,
    y2: frame.bottom,
    role: 'muted',
    width: 0.8,
    dash: [2, 2],
  });
  const marks: Mark[] = [
    end(from),
    end(to),
    {
      kind: 'rect',
      x: from,
      y: frame.bottom + periodBarPt,
      width: to - from,
      height: 4,
      role: 'range',
      filled: true,
    },
    {
      kind: 'text',
      x: Math.max(sceneMargin, Math.min(from, frame.width - sceneMargin - labelWidth)),
      y: frame.bottom + periodBarPt + 14,
      text: label,
      sizePt: tickSizePt,
      role: 'ink',
      anchor: 'start',
    },
  ];
  if (period.mean !== null && Number.isFinite(period.mean)) {
    const y = values(period.mean);
    marks.push({ kind: 'line', x1: from, y1: y, x2: to, y2: y, role: 'ink', width: 1.2, dash: [4, 3] });
  }
  return marks;
}

/** The quotations as a table, latest first. */
export function priceHistoryTable(chart: PriceHistoryChart): TableBlock {
  return {
    kind: 'table',
    caption: `${chart.title}, ${chart.unit}`,
    columns: [
      { key: 'date', label: 'Date', align: 'start', weight: 1 },
      { key: 'price', label: `Price, ${chart.unit}`, align: 'end', weight: 1 },
    ],
    rows: sortedQuotations(chart)
      .toReversed()
      .map(({ date, price }) => ({
        style: 'plain',
        cells: { date, price: significantText(price, 8) },
      })),
  };
}
