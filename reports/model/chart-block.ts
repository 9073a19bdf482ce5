import type { Scene } from '../charts/scene.ts';
import type { Block } from './report.ts';

/** Fits the narrowest phone. */
const NARROW_PT = 240;

/** A chart of a report: as wide as the paper's column, and narrow for a phone. */
export function chartBlock(
  draw: (widthPt: number) => Scene,
  widthPt: number,
): Extract<Block, { kind: 'chart' }> {
  return { kind: 'chart', scene: draw(widthPt), narrow: draw(NARROW_PT) };
}
