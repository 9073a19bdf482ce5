import { scaleUtc } from 'd3-scale';
import { curveStepAfter, line } from 'd3-shape';
import type { TableBlock } from '../model/report.ts';
import { fittingTicks, tickSizePt, valueScale } from './axis.ts';
import { dateMarks, dayMs, timeOf } from './date-axis.ts';
import { nameSizePt } from './lanes.ts';
import { significantText } from './number-text.ts';
import type { Mark, Scene } from './scene.ts';
import { emptyScene, finishScene, fitText, sceneMargin, textWidth } from './scene-tools.ts';

export interface StockLevelChart {
  title: string;
  /** For example `kg`. */
  unit: string;
  /** What was there after each movement, oldest first, ISO dates; counts are marked. */
  levels: readonly { date: string; quantity: number; isCount: boolean }[];
}

/** The last level of each day, and whether it was counted. */
function byDay(chart: StockLevelChart) {
  const days = new Map<string, { date: string; time: number; quantity: number; isCount: boolean }>();
  for (const level of chart.levels) {
    const time = timeOf(level.date);
    if (Number.isFinite(time) && Number.isFinite(level.quantity)) days.set(level.date, { ...level, time });
  }
  return [...days.values()].toSorted((a, b) => a.time - b.time);
}

/** The stock of one supply through time, as steps from zero; counts are ringed, the last level is named. */
export function stockLevel(chart: StockLevelChart, width: number): Scene {
  const { title, unit } = chart;
  const levels = byDay(chart);
  const [first, last] = [levels[0], levels.at(-1)];
  if (first === undefined || last === undefined)
    return emptyScene(title, width, 'Nothing was bought or counted yet.');
  const top = 24;
  const bottom = top + 120;
  const right = width - sceneMargin - 6;
  const values = valueScale(
    levels.map(({ quantity }) => quantity),
    [bottom, top],
    { withZero: true },
  );
  const valueTicks = fittingTicks(values, bottom - top, true);
  const left = sceneMargin + Math.max(0, ...valueTicks.map(({ label }) => textWidth(label, tickSizePt))) + 6;
  const padMs = first === last ? dayMs : 0;
  const times = scaleUtc()
    .domain([first.time - padMs, last.time + padMs])
    .range([left, right]);
  const text = (words: string, at: Pick<Extract<Mark, { kind: 'text' }>, 'x' | 'y' | 'anchor'>): Mark => ({
    kind: 'text',
    ...at,
    text: words,
    sizePt: tickSizePt,
    role: 'muted',
  });
  const marks: Mark[] = [
    text(fitText(unit, width - 2 * sceneMargin, tickSizePt), { x: sceneMargin, y: 12, anchor: 'start' }),
  ];
  for (const { value, label } of valueTicks) {
    const y = values(value);
    marks.push(
      {
        kind: 'line',
        x1: left,
        y1: y,
        x2: right,
        y2: y,
        role: value === 0 ? 'muted' : 'grid',
        width: value === 0 ? 0.9 : 0.6,
      },
      text(label, { x: left - 5, y: y + 3, anchor: 'end' }),
    );
  }
  marks.push(...dateMarks(times, bottom, (last.time - first.time + 2 * padMs) / dayMs, left, width));
  const path = line<{ time: number; quantity: number }>(
    ({ time }) => times(time),
    ({ quantity }) => values(quantity),
  )
    .curve(curveStepAfter)
    .digits(1)(levels);
  if (path !== null && levels.length > 1)
    marks.push({ kind: 'path', d: path, role: 'ink', width: 1.6, filled: false });
  for (const { time, quantity, isCount } of levels)
    if (isCount)
      marks.push({
        kind: 'circle',
        x: times(time),
        y: values(quantity),
        radius: 4,
        role: 'ink',
        filled: false,
      });
  const lastLabel = `${significantText(last.quantity, 6)} ${unit}`;
  const shownLabel = fitText(lastLabel, width - 2 * sceneMargin, nameSizePt, true);
  const half = textWidth(shownLabel, nameSizePt, true) / 2;
  marks.push(
    {
      kind: 'circle',
      x: times(last.time),
      y: values(last.quantity),
      radius: 2.6,
      role: 'ink',
      filled: true,
    },
    {
      kind: 'text',
      x: Math.min(Math.max(times(last.time), half + 1), width - half - 1),
      y: 13,
      text: shownLabel,
      sizePt: nameSizePt,
      role: 'ink',
      anchor: 'middle',
      bold: true,
    },
  );
  const counts = levels.filter(({ isCount }) => isCount).length;
  return finishScene({
    width,
    height: bottom + 20,
    title,
    description:
      `Stock from ${first.date} to ${last.date}, last ${lastLabel}; ` +
      `${counts === 0 ? 'never counted' : `${counts} ${counts === 1 ? 'count' : 'counts'}, ringed`}.`,
    marks,
  });
}

/** The levels as a table, latest first. */
export function stockLevelTable(chart: StockLevelChart): TableBlock {
  return {
    kind: 'table',
    caption: `${chart.title}, ${chart.unit}`,
    columns: [
      { key: 'date', label: 'Date', align: 'start', weight: 2 },
      { key: 'quantity', label: `In stock, ${chart.unit}`, align: 'end', weight: 2 },
      { key: 'counted', label: 'Counted', align: 'start', weight: 1 },
    ],
    rows: byDay(chart)
      .toReversed()
      .map(({ date, quantity, isCount }) => ({
        style: 'plain',
        cells: { date, quantity: significantText(quantity, 8), counted: isCount ? 'yes' : '' },
      })),
  };
}
