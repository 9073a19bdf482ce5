import { Dec } from '../money.ts';
import type { Escalator } from '../terms/charge-terms.ts';
import { marginalRate, shortfallRate } from '../terms/ladder.ts';
import { figure, shown, type Figure } from './figure.ts';
import { quotedPrice } from './quoted-price.ts';
import { addLine, type SettlementRun } from './run.ts';

/**
 * Change of a rate with the quoted price of a metal, positive upwards: what the
 * price above its levels adds, less what the price below its levels takes away,
 * each within its cap. Null where the price is missing.
 */
export function escalated(run: SettlementRun, escalator: Escalator, perUnit: string): Figure | null {
  const price = quotedPrice(run, escalator.metal);
  if (price === null) return null;
  const zero = { rate: new Dec(0), expression: '0' };
  const up = escalator.up === null ? zero : marginalRate(escalator.up, price.text);
  const down = escalator.down === null ? zero : shortfallRate(escalator.down, price.text);
  const capped = (change: typeof up, cap: string | null) =>
    cap !== null && change.rate.gt(cap)
      ? { rate: new Dec(cap), expression: `lesser of ${cap} and (${change.expression})` }
      : change;
  const rise = capped(up, escalator.maximumIncrease);
  const fall = capped(down, escalator.maximumDecrease);
  const change = figure(
    rise.rate.minus(fall.rate),
    run.terms.rounding.perTonneValue,
    `${run.terms.currency}/${perUnit}`,
  );
  const expression = fall.rate.isZero()
    ? rise.expression
    : rise.rate.isZero()
      ? `0 − (${fall.expression})`
      : `${rise.expression} − (${fall.expression})`;
  const id = `prices/escalator/${escalator.metal}/${perUnit.replaceAll(' ', '-')}`;
  const again = run.lines.filter((line) => line.id === id || line.id.startsWith(`${id}/`)).length;
  addLine(run, {
    id: again === 0 ? id : `${id}/${again + 1}`,
    section: 'prices',
    label: `Escalator on ${escalator.metal} at ${shown(price)}`,
    working: `${expression === '0' ? 'no level is reached: ' : ''}${expression} = ${shown(change)}`,
    result: change,
  });
  return change;
}
