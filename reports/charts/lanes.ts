import type { ScaleLinear } from 'd3-scale';
import type { Mark } from './scene.ts';
import { axisBelow, tickSizePt } from './axis.ts';
import { fitText, sceneMargin, textWidth, wrapText } from './scene-tools.ts';

export const nameSizePt = 10;

const nameLinePt = 12.5;
const laneHeightPt = 18;
const laneGapPt = 9;

/** One row of a lane chart: a name on its own line, so that long names fit, and marks on a lane below it. */
export interface Lane {
  name: string;
  /** Stands at the right end of the name's line, for example the median or the word "best". */
  note: string;
  noteBold: boolean;
}

/** One scale over the lanes; several panels stand side by side. */
export interface Panel {
  heading: string;
  left: number;
  scale: ScaleLinear<number, number>;
  zeroLine: boolean;
  drawLane: (index: number, centerY: number) => Mark[];
}

/** Draws lanes from `top` down and returns the marks with the y at which they end. */
export function drawLanes(options: {
  lanes: readonly Lane[];
  panels: readonly Panel[];
  top: number;
  frameWidth: number;
  axisLabel: string;
}): { marks: Mark[]; bottom: number } {
  const { lanes, panels, top, frameWidth, axisLabel } = options;
  const right = frameWidth - sceneMargin;
  const headings = panels.flatMap(({ heading, left }): Mark[] =>
    heading === ''
      ? []
      : [
          {
            kind: 'text',
            x: left,
            y: top + 11,
            text: heading,
            sizePt: nameSizePt,
            role: 'ink',
            anchor: 'start',
            bold: true,
          },
        ],
  );
  let y = top + (headings.length === 0 ? 0 : 19);
  const names: Mark[] = [];
  const spans: { top: number; bottom: number }[] = [];
  for (const lane of lanes) {
    const noteWidth = lane.note === '' ? 0 : textWidth(lane.note, nameSizePt, lane.noteBold) + 8;
    const nameLines = wrapText(lane.name, right - sceneMargin - noteWidth, nameSizePt, 2);
    nameLines.forEach((text, index) => {
      names.push({
        kind: 'text',
        x: sceneMargin,
        y: y + 10 + index * nameLinePt,
        text,
        sizePt: nameSizePt,
        role: 'ink',
        anchor: 'start',
      });
    });
    if (lane.note !== '') {
      const text = fitText(lane.note, right - sceneMargin, nameSizePt, lane.noteBold);
      names.push({
        kind: 'text',
        x: right,
        y: y + 10,
        text,
        sizePt: nameSizePt,
        role: 'ink',
        anchor: 'end',
        bold: lane.noteBold,
      });
    }
    y += Math.max(1, nameLines.length) * nameLinePt + 2;
    spans.push({ top: y, bottom: y + laneHeightPt });
    y += laneHeightPt + laneGapPt;
  }
  const lastBottom = spans.at(-1)?.bottom ?? y;
  const grid = panels.flatMap((panel) =>
    axisBelow({
      scale: panel.scale,
      spans,
      labelY: lastBottom + 12,
      frameWidth,
      zeroLine: panel.zeroLine,
    }),
  );
  const lanesDrawn = panels.flatMap((panel) =>
    spans.flatMap((span, index) => panel.drawLane(index, (span.top + span.bottom) / 2)),
  );
  let bottom = lastBottom + 16;
  const axisTexts: Mark[] = wrapText(axisLabel, right - sceneMargin, tickSizePt, 3).map((text) => {
    bottom += 11;
    return {
      kind: 'text',
      x: sceneMargin,
      y: bottom,
      text,
      sizePt: tickSizePt,
      role: 'muted',
      anchor: 'start',
    };
  });
  return { marks: [...headings, ...grid, ...names, ...lanesDrawn, ...axisTexts], bottom: bottom + 4 };
}

/** A text on a lane that stands in for marks that cannot be drawn, on the roomier side of the zero line. */
export function laneRemark(
  text: string,
  lane: { left: number; zero: number; right: number },
  centerY: number,
): Mark {
  const gap = 5;
  const toTheRight = lane.right - lane.zero >= lane.zero - lane.left;
  const room = (toTheRight ? lane.right - lane.zero : lane.zero - lane.left) - gap;
  return {
    kind: 'text',
    x: toTheRight ? lane.zero + gap : lane.zero - gap,
    y: centerY + 3,
    text: fitText(text, room, tickSizePt),
    sizePt: tickSizePt,
    role: 'muted',
    anchor: toTheRight ? 'start' : 'end',
  };
}

/** The tick at a median, set off from its bar by a thin gap on either side, so that it shows on a dark bar too. */
export function medianTick(x: number, centerY: number, reach: number): Mark[] {
  const upright = { kind: 'line', x1: x, y1: centerY - reach, x2: x, y2: centerY + reach } as const;
  return [
    { ...upright, role: 'paper', width: 4.5 },
    { ...upright, role: 'ink', width: 1.8 },
  ];
}
