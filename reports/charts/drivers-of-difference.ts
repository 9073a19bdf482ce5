import { scaleLinear } from 'd3-scale';
import type { TableBlock } from '../model/report.ts';
import type { Mark, Scene } from './scene.ts';
import { drawLanes } from './lanes.ts';
import { fixedText, notKnownText } from './number-text.ts';
import { emptyScene, finishScene, sceneMargin } from './scene-tools.ts';

/** One uncertain quantity, and the share of the variance that knowing it exactly would take away. */
export interface DriverShare {
  label: string;
  /** 0 to 1; not finite where it could not be worked out. */
  shareFrac: number;
}

export interface DriversChart {
  title: string;
  /** Largest first. */
  drivers: readonly DriverShare[];
}

/** So many are drawn; the table has them all. */
const MOST_DRAWN = 8;
/** Below this a share is as likely chance. */
const SMALLEST_DRAWN_FRAC = 0.005;

const noBreak = '\u00a0';

/** A share in whole percent; less than one is said so. */
function shareText(shareFrac: number): string {
  if (!Number.isFinite(shareFrac)) return notKnownText;
  const percent = 100 * shareFrac;
  return percent < 1 ? `below 1${noBreak}%` : `${fixedText(percent, 0)}${noBreak}%`;
}

function drawnOf({ drivers }: DriversChart): DriverShare[] {
  return drivers
    .filter(({ shareFrac }) => Number.isFinite(shareFrac) && shareFrac >= SMALLEST_DRAWN_FRAC)
    .slice(0, MOST_DRAWN);
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/**
 * What the uncertainty of a difference rests on: a bar for each uncertain
 * quantity over one scale from 0 to 100 %, largest first.
 */
export function driversOfDifference(chart: DriversChart, width: number): Scene {
  const drawn = drawnOf(chart);
  if (drawn.length === 0)
    return emptyScene(chart.title, width, 'Nothing that is uncertain moves the difference.');
  const left = sceneMargin;
  const scale = scaleLinear()
    .domain([0, 100])
    .range([left, width - sceneMargin]);
  const barHeight = 11;
  const { marks, bottom } = drawLanes({
    lanes: drawn.map(({ label, shareFrac }) => ({
      name: capital(label),
      note: shareText(shareFrac),
      noteBold: false,
    })),
    panels: [
      {
        heading: '',
        left,
        scale,
        zeroLine: true,
        drawLane: (index, centerY): Mark[] => {
          const share = Math.min(1, Math.max(0, drawn[index]?.shareFrac ?? 0));
          return [
            {
              kind: 'rect',
              x: left,
              y: centerY - barHeight / 2,
              width: scale(100 * share) - left,
              height: barHeight,
              role: 'range',
              filled: true,
            },
          ];
        },
      },
    ],
    top: sceneMargin,
    frameWidth: width,
    axisLabel:
      'Share of the variance that knowing it exactly would take away, %. What is known together overlaps, so the shares need not add up to 100.',
  });
  return finishScene({
    width,
    height: bottom,
    title: chart.title,
    description: drawn
      .map(({ label, shareFrac }) => `${capital(label)}: ${shareText(shareFrac)} of the variance.`)
      .join(' '),
    marks,
  });
}

/** All the shares as a table. */
export function driversOfDifferenceTable(chart: DriversChart): TableBlock {
  return {
    kind: 'table',
    caption: chart.title,
    columns: [
      { key: 'label', label: 'What is uncertain', align: 'start', weight: 4 },
      { key: 'share', label: 'Share of the variance', align: 'end', weight: 1 },
    ],
    rows: chart.drivers.map(({ label, shareFrac }) => ({
      style: 'plain',
      cells: { label: capital(label), share: shareText(shareFrac) },
    })),
  };
}
