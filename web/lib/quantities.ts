import {
  fahrenheitFromCelsius,
  gptPerOzPerShortTon,
  gramsPerPound,
  gramsPerTroyOunce,
} from '../../api/calc/units.ts';
import { Dec } from '../../api/calc/money.ts';
import type { DecimalNumber } from '../../api/calc/money.ts';
import type { OwnerChoices } from './owner.ts';
import { decimalOf, editableText } from './parse-decimal.ts';

/** Quantities that the owner may have shown in a unit of choice, with the unit in which they are stored. */
export type Quantity = 'lotMassKg' | 'metalMassG' | 'gradeGpt' | 'tempC';

/** The unit in which a quantity is shown and typed. */
export function shownUnit(quantity: Quantity, choices: OwnerChoices): string {
  switch (quantity) {
    case 'lotMassKg':
      return choices.massUnit;
    case 'metalMassG':
      return choices.metalUnit;
    case 'gradeGpt':
      return choices.gradeUnit;
    case 'tempC':
      return choices.temperatureUnit;
  }
}

/** How much of the stored unit one shown unit is; temperatures apart. */
function storedPerShown(quantity: Exclude<Quantity, 'tempC'>, choices: OwnerChoices): number {
  switch (quantity) {
    case 'lotMassKg':
      return choices.massUnit === 'lb' ? gramsPerPound / 1000 : 1;
    case 'metalMassG':
      return choices.metalUnit === 'ozt' ? gramsPerTroyOunce : 1;
    case 'gradeGpt':
      return choices.gradeUnit === 'oz/short ton' ? gptPerOzPerShortTon : 1;
  }
}

/** A stored value in the unit in which it is shown. */
export function shownValue(quantity: Quantity, stored: number, choices: OwnerChoices): number {
  if (quantity === 'tempC') {
    return choices.temperatureUnit === '°F' ? fahrenheitFromCelsius(stored) : stored;
  }
  return stored / storedPerShown(quantity, choices);
}

/** A difference or an uncertainty in the unit in which it is shown: a temperature difference has no offset. */
export function shownDifference(quantity: Quantity, stored: number, choices: OwnerChoices): number {
  if (quantity !== 'tempC') return shownValue(quantity, stored, choices);
  return choices.temperatureUnit === '°F' ? stored * 1.8 : stored;
}

const storedDecimals = 8;

/**
 * A typed decimal text in the stored unit; unchanged where both units are the same. Otherwise the shortest
 * text, of up to 8 decimals, that shows as what was typed: a mass that was stored as 812.3 g, shown in troy
 * ounces and sent back unchanged is 812.3 g again.
 */
export function storedDecimal(quantity: Quantity, shown: string, choices: OwnerChoices): string {
  if (quantity === 'tempC') {
    if (choices.temperatureUnit === '°C') return shown;
    return shortestShownAs(quantity, shown, new Dec(shown).minus(32).times(5).div(9), choices);
  }
  const factor = storedPerShown(quantity, choices);
  return factor === 1 ? shown : shortestShownAs(quantity, shown, new Dec(shown).times(factor), choices);
}

function shortestShownAs(
  quantity: Quantity,
  shown: string,
  exact: DecimalNumber,
  choices: OwnerChoices,
): string {
  const wanted = new Dec(shown).toDecimalPlaces(storedDecimals).toFixed();
  for (let decimals = 0; decimals < storedDecimals; decimals += 1) {
    const shorter = exact.toDecimalPlaces(decimals).toFixed();
    if (shownDecimal(quantity, shorter, choices) === wanted) return shorter;
  }
  return exact.toDecimalPlaces(storedDecimals).toFixed();
}

/** A stored decimal text or number in the unit in which it is shown, for a field. */
export function shownDecimal(quantity: Quantity, stored: string, choices: OwnerChoices): string {
  const exact = new Dec(stored);
  if (quantity === 'tempC') {
    if (choices.temperatureUnit === '°C') return stored;
    return exact.times(9).div(5).plus(32).toDecimalPlaces(storedDecimals).toFixed();
  }
  const factor = storedPerShown(quantity, choices);
  return factor === 1 ? stored : exact.div(factor).toDecimalPlaces(storedDecimals).toFixed();
}

/** What a field in the owner's unit shows for a stored value. */
export function shownText(quantity: Quantity, stored: string | number | null, choices: OwnerChoices): string {
  if (stored === null) return '';
  return editableText(
    shownDecimal(quantity, editableText(stored, { decimalComma: false }), choices),
    choices,
  );
}

/** The stored decimal text behind what was typed in the owner's unit, null for an empty field. */
export function storedOf(quantity: Quantity, typed: string, choices: OwnerChoices): string | null {
  const decimal = decimalOf(typed, choices);
  return decimal === null ? null : storedDecimal(quantity, decimal, choices);
}
