import type { Measured } from '../../api/calc/measured.ts';
import type { TableBlock } from '../model/report.ts';
import type { Mark, Role, Scene } from './scene.ts';
import { valueScale } from './axis.ts';
import { drawLanes, laneRemark } from './lanes.ts';
import type { Panel } from './lanes.ts';
import { notKnownText, placeOfTwoDigits, significantText, textAtPlace } from './number-text.ts';
import { emptyScene, finishScene, sceneMargin } from './scene-tools.ts';

type Metal = 'gold' | 'silver';

/** What one trial recovered per tonne of dry sample, in the chart's grade unit; null where it could not be worked out. */
export interface TrialRecovered {
  name: string;
  gold: Measured | null;
  silver: Measured | null;
  /** The single test smelts behind the mean. */
  replicates: readonly { gold: number | null; silver: number | null }[];
}

export interface RecoveredByTrialChart {
  title: string;
  /** `g/t` or `oz/short ton`. */
  unit: string;
  trials: readonly TrialRecovered[];
}

/** Coverage factor of the error bars and of every ± in text: about 95 % (JCGM 100:2008, 6.2.1 and G.6.6). */
const coverageFactor = 2;

const metalNames: Record<Metal, string> = { gold: 'Gold', silver: 'Silver' };

const isFiniteMeasured = (measured: Measured | null): measured is Measured =>
  measured !== null && Number.isFinite(measured.value) && Number.isFinite(measured.u);

/** Value and expanded uncertainty, rounded alike; `plusMinus` is empty where the uncertainty is zero. */
function measuredFigures(measured: Measured | null): { value: string; plusMinus: string } {
  if (!isFiniteMeasured(measured)) return { value: notKnownText, plusMinus: notKnownText };
  const expanded = coverageFactor * measured.u;
  const place = placeOfTwoDigits(expanded);
  if (place === null) return { value: significantText(measured.value, 6), plusMinus: '' };
  return { value: textAtPlace(measured.value, place), plusMinus: textAtPlace(expanded, place) };
}

function metalPhrase(trial: TrialRecovered, metal: Metal, unit: string): string {
  const { value, plusMinus } = measuredFigures(trial[metal]);
  if (value === notKnownText) return `${metal} not worked out`;
  return `${metal} ${value}${plusMinus === '' ? '' : ` ± ${plusMinus}`} ${unit}`;
}

function valuesOf(trials: readonly TrialRecovered[], metal: Metal): number[] {
  return trials.flatMap((trial) => {
    const mean = trial[metal];
    const reach = isFiniteMeasured(mean)
      ? [mean.value - coverageFactor * mean.u, mean.value + coverageFactor * mean.u]
      : [];
    const singles = trial.replicates.map((replicate) => replicate[metal]);
    return [...reach, ...singles.filter((single): single is number => single !== null)];
  });
}

function errorBar(mean: Measured, y: number, scale: (value: number) => number, role: Role): Mark[] {
  const low = scale(mean.value - coverageFactor * mean.u);
  const high = scale(mean.value + coverageFactor * mean.u);
  const cap = (x: number): Mark => ({ kind: 'line', x1: x, y1: y - 4, x2: x, y2: y + 4, role, width: 1.4 });
  return [
    { kind: 'line', x1: low, y1: y, x2: high, y2: y, role, width: 1.4 },
    cap(low),
    cap(high),
    { kind: 'circle', x: scale(mean.value), y, radius: 3.6, role, filled: true },
  ];
}

function metalPanel(chart: RecoveredByTrialChart, metal: Metal, left: number, right: number): Panel {
  const inset = 4;
  const scale = valueScale(valuesOf(chart.trials, metal), [left + inset, right - inset], { withZero: true });
  return {
    heading: `${metalNames[metal]}, ${chart.unit}`,
    left,
    scale,
    zeroLine: true,
    drawLane: (index, centerY) => {
      const trial = chart.trials[index];
      if (trial === undefined) return [];
      const mean = trial[metal];
      const singles = trial.replicates
        .map((replicate) => replicate[metal])
        .filter((single): single is number => single !== null && Number.isFinite(single));
      const points = singles.map((single): Mark => ({
        kind: 'circle',
        x: scale(single),
        y: centerY + 5,
        radius: 2.4,
        role: metal,
        filled: false,
      }));
      if (!isFiniteMeasured(mean)) {
        return [...points, laneRemark('not worked out', { left, zero: scale(0), right }, centerY - 1)];
      }
      return [...points, ...errorBar(mean, centerY - 3, scale, metal)];
    },
  };
}

/**
 * Recovered gold and silver by trial: mean with error bars of two standard
 * uncertainties, the single test smelts as open circles beneath. Gold and
 * silver have a panel each, side by side where there is room, because their
 * scales differ.
 */
export function recoveredByTrial(chart: RecoveredByTrialChart, width: number): Scene {
  const { title, trials, unit } = chart;
  if (trials.length === 0) return emptyScene(title, width, 'No trial with a result yet.');
  const lanes = trials.map(({ name, replicates }) => ({
    name,
    note: `${replicates.length} ${replicates.length === 1 ? 'test' : 'tests'}`,
    noteBold: false,
  }));
  const left = sceneMargin;
  const right = width - sceneMargin;
  const legend = 'Dot and bar: mean ± two standard uncertainties; open circle: one test smelt.';
  const draw = (panels: Panel[], top: number, axisLabel: string) =>
    drawLanes({ lanes, panels, top, frameWidth: width, axisLabel });

  const marks: Mark[] = [];
  let bottom: number;
  if (width >= 440) {
    const middle = width / 2;
    const panels = [
      metalPanel(chart, 'gold', left, middle - 12),
      metalPanel(chart, 'silver', middle + 12, right),
    ];
    const drawn = draw(panels, sceneMargin, legend);
    marks.push(...drawn.marks);
    bottom = drawn.bottom;
  } else {
    const gold = draw([metalPanel(chart, 'gold', left, right)], sceneMargin, '');
    const silver = draw([metalPanel(chart, 'silver', left, right)], gold.bottom + 8, legend);
    marks.push(...gold.marks, ...silver.marks);
    bottom = silver.bottom;
  }
  const description = trials
    .map(
      (trial) => `${trial.name}: ${metalPhrase(trial, 'gold', unit)}, ${metalPhrase(trial, 'silver', unit)}.`,
    )
    .join(' ');
  return finishScene({ width, height: bottom, title, description, marks });
}

/** The same figures as a table, with every single test in the small print. */
export function recoveredByTrialTable(chart: RecoveredByTrialChart): TableBlock {
  const single = (value: number | null): string =>
    value === null ? notKnownText : significantText(value, 4);
  return {
    kind: 'table',
    caption: `${chart.title}, ${chart.unit}`,
    columns: [
      { key: 'name', label: 'Trial', align: 'start', weight: 3 },
      { key: 'tests', label: 'Tests', align: 'end', weight: 1 },
      { key: 'gold', label: 'Gold', align: 'end', weight: 1 },
      { key: 'goldPlusMinus', label: '±\u00a0(2\u00a0u)', align: 'end', weight: 1 },
      { key: 'silver', label: 'Silver', align: 'end', weight: 1 },
      { key: 'silverPlusMinus', label: '±\u00a0(2\u00a0u)', align: 'end', weight: 1 },
    ],
    rows: chart.trials.map((trial) => {
      const gold = measuredFigures(trial.gold);
      const silver = measuredFigures(trial.silver);
      return {
        style: 'plain',
        cells: {
          name: trial.name,
          tests: String(trial.replicates.length),
          gold: gold.value,
          goldPlusMinus: gold.plusMinus,
          silver: silver.value,
          silverPlusMinus: silver.plusMinus,
        },
        detail:
          trial.replicates.length === 0
            ? undefined
            : `Single tests, gold / silver: ${trial.replicates
                .map((replicate) => `${single(replicate.gold)} / ${single(replicate.silver)}`)
                .join('; ')}.`,
      };
    }),
  };
}
