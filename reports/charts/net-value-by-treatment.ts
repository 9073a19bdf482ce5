import type { TableBlock } from '../model/report.ts';
import type { Mark, Scene } from './scene.ts';
import { valueScale } from './axis.ts';
import { drawLanes, laneRemark, medianTick } from './lanes.ts';
import { notKnownText, placeOfTwoDigits, textAtPlace } from './number-text.ts';
import { emptyScene, finishScene, sceneMargin } from './scene-tools.ts';

/** Net value of one lot or batch under one treatment, in the chart's money unit. */
export interface TreatmentNetValue {
  name: string;
  /** 10th, 50th and 90th percentile; not finite where it could not be worked out. */
  low: number;
  median: number;
  high: number;
  /** Highest expected net value of those shown. */
  best: boolean;
}

export interface NetValueChart {
  title: string;
  /** For example `USD` or `USD/t`. */
  unit: string;
  treatments: readonly TreatmentNetValue[];
}

const isDrawable = ({ low, median, high }: TreatmentNetValue): boolean =>
  [low, median, high].every(Number.isFinite);

/** The three figures of a treatment, rounded alike to two significant digits of half their range. */
function figures({ low, median, high }: TreatmentNetValue): { low: string; median: string; high: string } {
  const place = placeOfTwoDigits((high - low) / 2) ?? -2;
  return {
    low: textAtPlace(low, place),
    median: textAtPlace(median, place),
    high: textAtPlace(high, place),
  };
}

function rowSentence(treatment: TreatmentNetValue, unit: string): string {
  if (!isDrawable(treatment)) return `${treatment.name}: not worked out.`;
  const { low, median, high } = figures(treatment);
  const best = treatment.best ? ', best' : '';
  return `${treatment.name}: median ${median} ${unit}, 10–90 % range ${low} to ${high} ${unit}${best}.`;
}

/**
 * Net value by treatment: a bar over the 10–90 % range with a tick at the
 * median, over one scale with a zero line. The part of a bar below zero is
 * hatched; the best treatment is filled and carries the word.
 */
export function netValueByTreatment(chart: NetValueChart, width: number): Scene {
  const { title, unit, treatments } = chart;
  if (treatments.length === 0) return emptyScene(title, width, 'No treatment to compare yet.');
  const left = sceneMargin;
  const right = width - sceneMargin;
  const scale = valueScale(
    treatments.filter(isDrawable).flatMap(({ low, median, high }) => [low, median, high]),
    [left, right],
    { withZero: true },
  );
  const zero = scale(0);
  const barHeight = 11;

  function bar(treatment: TreatmentNetValue, y: number): Mark[] {
    const from = scale(Math.min(treatment.low, treatment.high));
    const to = scale(Math.max(treatment.low, treatment.high));
    const marks: Mark[] = [];
    if (from < zero) {
      marks.push({
        kind: 'rect',
        x: from,
        y: y - barHeight / 2,
        width: Math.min(to, zero) - from,
        height: barHeight,
        role: 'loss',
        filled: true,
        hatched: true,
      });
    }
    if (to >= zero) {
      const start = Math.max(from, zero);
      marks.push({
        kind: 'rect',
        x: start,
        y: y - barHeight / 2,
        width: to - start,
        height: barHeight,
        role: treatment.best ? 'best' : 'range',
        filled: true,
      });
    }
    return [...marks, ...medianTick(scale(treatment.median), y, barHeight / 2 + 3)];
  }

  const { marks, bottom } = drawLanes({
    lanes: treatments.map((treatment) => ({
      name: treatment.name,
      note: isDrawable(treatment)
        ? `${treatment.best ? 'best, ' : ''}${figures(treatment).median} ${unit}`
        : notKnownText,
      noteBold: treatment.best,
    })),
    panels: [
      {
        heading: '',
        left,
        scale,
        zeroLine: true,
        drawLane: (index, centerY) => {
          const treatment = treatments[index];
          if (treatment === undefined) return [];
          return isDrawable(treatment)
            ? bar(treatment, centerY)
            : [laneRemark('not worked out', { left, zero, right }, centerY)];
        },
      },
    ],
    top: sceneMargin,
    frameWidth: width,
    axisLabel: `Net value, ${unit}. Bar: 8 outcomes in 10; tick: median; hatched: below zero.`,
  });
  return finishScene({
    width,
    height: bottom,
    title,
    description: treatments.map((treatment) => rowSentence(treatment, unit)).join(' '),
    marks,
  });
}

/** The same figures as a table. */
export function netValueByTreatmentTable(chart: NetValueChart): TableBlock {
  return {
    kind: 'table',
    caption: `${chart.title}, ${chart.unit}`,
    columns: [
      { key: 'name', label: 'Treatment', align: 'start', weight: 3 },
      { key: 'low', label: 'Low (10\u00a0%)', align: 'end', weight: 1 },
      { key: 'median', label: 'Median', align: 'end', weight: 1 },
      { key: 'high', label: 'High (90\u00a0%)', align: 'end', weight: 1 },
      { key: 'remark', label: 'Remark', align: 'start', weight: 1 },
    ],
    rows: chart.treatments.map((treatment) => ({
      style: 'plain',
      cells: isDrawable(treatment)
        ? { name: treatment.name, ...figures(treatment), remark: treatment.best ? 'best' : '' }
        : {
            name: treatment.name,
            low: notKnownText,
            median: notKnownText,
            high: notKnownText,
            remark: 'not worked out',
          },
    })),
  };
}
