import { Dec, sumOf } from '../money.ts';
import type { Settlement } from './statement.ts';

/** What a settlement holds back until the final statement, in its currency; '0.00' where nothing is. */
export function heldBackOf({ lines, moneyDecimals }: Settlement): string {
  const held = lines.filter(({ id }) => id === 'previous/held-back').map(({ amount }) => amount ?? '0');
  return new Dec(0).minus(sumOf(held)).toFixed(moneyDecimals);
}
