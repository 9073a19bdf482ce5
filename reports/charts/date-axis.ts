import type { scaleUtc } from 'd3-scale';
import { tickSizePt } from './axis.ts';
import type { Mark } from './scene.ts';
import { textWidth } from './scene-tools.ts';

export const dayMs = 86_400_000;
const monthNames = 'Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec'.split(' ');

/** An ISO date as milliseconds of the clock, for a scale of time. */
export const timeOf = (date: string): number => Date.parse(`${date}T00:00:00Z`);

function dateLabel(date: Date, spanDays: number): string {
  if (spanDays <= 100) return `${date.getUTCDate()} ${monthNames[date.getUTCMonth()]}`;
  if (spanDays <= 1500) return `${monthNames[date.getUTCMonth()]} ${date.getUTCFullYear()}`;
  return String(date.getUTCFullYear());
}

/** Ticks under a scale of time, with as many labels as have room. */
export function dateMarks(
  times: ReturnType<typeof scaleUtc<number>>,
  bottom: number,
  spanDays: number,
  left: number,
  frameWidth: number,
): Mark[] {
  const marks: Mark[] = [];
  const labelRoom = textWidth('30 Mar 2000', tickSizePt) + 6;
  const count = Math.max(1, Math.floor((frameWidth - left) / labelRoom));
  let clearOf = left - 20;
  let previous = '';
  for (const tick of times.ticks(count)) {
    const x = times(tick);
    const label = dateLabel(tick, spanDays);
    // Of a span of hours every tick has the same day.
    if (label === previous) continue;
    previous = label;
    const half = textWidth(label, tickSizePt) / 2;
    const inside = Math.min(Math.max(x, half + 1), frameWidth - half - 1);
    marks.push({ kind: 'line', x1: x, y1: bottom, x2: x, y2: bottom + 4, role: 'muted', width: 0.8 });
    if (inside - half < clearOf) continue;
    clearOf = inside + half + 4;
    marks.push({
      kind: 'text',
      x: inside,
      y: bottom + 14,
      text: label,
      sizePt: tickSizePt,
      role: 'muted',
      anchor: 'middle',
    });
  }
  return marks;
}
