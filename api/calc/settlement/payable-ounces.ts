import { Dec } from '../money.ts';
import type { Settlement } from './statement.ts';

/** Troy ounces in one of what a contract weighs payable metal in. */
const OUNCES_IN: Record<string, { ounces: string }> = {
  ozt: { ounces: '1' },
  g: { ounces: new Dec(1).div('31.1034768').toFixed(20) },
  kg: { ounces: new Dec(1000).div('31.1034768').toFixed(20) },
};

/**
 * Payable metal of a settlement in troy ounces to the third decimal, as its lines state it; null where the
 * contract values the metal without stating how much is payable, or it was not settled; 0 below the least grade
 * that is paid for.
 */
export function payableOunces(settlement: Settlement, metal: 'Au' | 'Ag'): string | null {
  const line =
    settlement.lines.find((one) => one.id === `payable/${metal}/after-toll-share`) ??
    settlement.lines.find((one) => one.id === `payable/${metal}/metal`);
  if (line === undefined) {
    const nothing = settlement.lines.find((one) => one.id === `payable/${metal}`)?.quantity;
    return nothing && new Dec(nothing.value).isZero() ? '0.000' : null;
  }
  const unit = line.result && OUNCES_IN[line.result.unit];
  return line.result && unit ? new Dec(line.result.value).times(unit.ounces).toFixed(3) : null;
}
