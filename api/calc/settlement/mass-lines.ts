import { Dec, sumOf } from '../money.ts';
import { convert, massConversion } from '../terms/conversion.ts';
import type { MassBasis, MassUnit } from '../terms/term-units.ts';
import { figure, shown, type Figure } from './figure.ts';
import { addLine, type SettlementRun } from './run.ts';

/** A weighing in the unit of the weights, rounded by the contract's rule for masses. */
export function convertedMass(run: SettlementRun, text: string, from: MassUnit, to: MassUnit): Figure {
  const value = convert(new Dec(text), massConversion(from, to), run.terms.factors);
  return figure(value, run.terms.rounding.mass, to);
}

/** A label of one of several pieces, or of the only one: `Bag 1: wet mass`, `Wet mass`. */
export function pieceLabel(name: string | null, text: string): string {
  return name === null ? `${text.charAt(0).toUpperCase()}${text.slice(1)}` : `${name}: ${text}`;
}

/** The sum of the masses of all sublots or bars, as its own line. */
export function totalLine(run: SettlementRun, basis: MassBasis, label: string, parts: Figure[]): Figure {
  const first = parts[0] as Figure;
  const total = figure(sumOf(parts.map((f) => f.value)), run.terms.rounding.mass, first.unit);
  addLine(run, {
    id: `weights/${basis}`,
    section: 'weights',
    label,
    working: `${parts.map(shown).join(' + ')} = ${shown(total)}`,
    result: total,
  });
  return total;
}
