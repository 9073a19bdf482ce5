import { scaleLinear } from 'd3-scale';
import type { ScaleLinear } from 'd3-scale';
import type { Mark } from './scene.ts';
import { fixedText } from './number-text.ts';
import { textWidth } from './scene-tools.ts';

export const tickSizePt = 8.5;

/** Values that differ by less, for their size, are drawn as one. */
const narrowestSpan = 1e-9;

/** A linear scale over all finite values, rounded out to whole ticks; one value or none still gives a scale with a width. */
export function valueScale(
  values: readonly (number | null)[],
  pixels: readonly [number, number],
  options: { withZero: boolean },
): ScaleLinear<number, number> {
  const finite = values.filter((value): value is number => value !== null && Number.isFinite(value));
  if (options.withZero || finite.length === 0) finite.push(0);
  let low = Math.min(...finite);
  let high = Math.max(...finite);
  if (high - low <= narrowestSpan * Math.max(1, Math.abs(low), Math.abs(high))) {
    const nearZero = Math.abs(low) < narrowestSpan;
    const half = Math.abs(low) * 0.05;
    low = nearZero ? 0 : low - half;
    high = nearZero ? 1 : high + half;
  }
  return scaleLinear().domain([low, high]).range(pixels).nice(5);
}

/** The label of a tick, with as many decimals as the step between ticks needs. */
export function tickText(value: number, step: number): string {
  const decimals = step > 0 ? Math.max(0, Math.ceil(-Math.log10(step) - 1e-9)) : 0;
  return fixedText(value, Math.min(decimals, 12));
}

/**
 * Tick values and labels, thinned until the labels have room along a scale of
 * the given length: side by side below an axis, or one above the other beside it.
 */
export function fittingTicks(
  scale: ScaleLinear<number, number>,
  lengthPt: number,
  stacked = false,
): { value: number; label: string }[] {
  const extent = (label: string): number => (stacked ? tickSizePt : textWidth(label, tickSizePt));
  for (let count = Math.max(2, Math.floor(lengthPt / (stacked ? 26 : 55))); count >= 1; count -= 1) {
    const values = scale.ticks(count);
    const step = values.length > 1 ? Math.abs((values[1] ?? 0) - (values[0] ?? 0)) : Math.abs(values[0] ?? 0);
    const ticks = values.map((value) => ({ value, label: tickText(value, step) }));
    const widest = Math.max(0, ...ticks.map((tick) => extent(tick.label)));
    const room = Math.abs(scale(step) - scale(0));
    if (ticks.length <= 1 || widest + 8 <= room) return ticks;
  }
  return [];
}

/**
 * Grid lines with their labels underneath. The lines run only through the
 * given spans, so that names between the spans stay clear; labels at the ends
 * are kept inside the frame.
 */
export function axisBelow(options: {
  scale: ScaleLinear<number, number>;
  spans: readonly { top: number; bottom: number }[];
  labelY: number;
  frameWidth: number;
  zeroLine: boolean;
}): Mark[] {
  const { scale, spans, labelY, frameWidth, zeroLine } = options;
  const [start, end] = scale.range() as [number, number];
  return fittingTicks(scale, end - start).flatMap((tick) => {
    const x = scale(tick.value);
    const isZero = zeroLine && tick.value === 0;
    const half = textWidth(tick.label, tickSizePt) / 2;
    const lines = spans.map(({ top, bottom }): Mark => ({
      kind: 'line',
      x1: x,
      y1: top,
      x2: x,
      y2: bottom,
      role: isZero ? 'ink' : 'grid',
      width: isZero ? 1.2 : 0.6,
    }));
    const label: Mark = {
      kind: 'text',
      x: Math.min(Math.max(x, half + 1), frameWidth - half - 1),
      y: labelY,
      text: tick.label,
      sizePt: tickSizePt,
      role: 'muted',
      anchor: 'middle',
    };
    return [...lines, label];
  });
}
