import type { Measured } from '../../api/calc/measured.ts';
import { Dec, isDecimalText } from '../../api/calc/money.ts';
import {
  fixedText,
  groupDigits,
  notKnownText,
  placeOfTwoDigits,
  significantText,
  textAtPlace,
} from '../../reports/charts/number-text.ts';
import type { OwnerChoices } from './owner.ts';
import { shownDecimal, shownDifference, shownUnit, shownValue } from './quantities.ts';
import type { Quantity } from './quantities.ts';
import { shiftPoint } from './parse-decimal.ts';

/** An estimate as it is shown: median, and the range in which 8 outcomes in 10 fall. */
export interface EstimateRange {
  low: number;
  median: number;
  high: number;
}

const noBreak = '\u00a0';
const monthNames = 'Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec'.split(' ');

/** Coverage factor of every ± that is shown (JCGM 100:2008, 6.2.1). */
const coverageFactor = 2;

const withUnit = (text: string, unit: string): string =>
  unit === '' || text === notKnownText ? text : `${text}${noBreak}${unit}`;

/** Value ± expanded uncertainty (k = 2), the uncertainty to two significant digits and the value to the same place. */
export function measuredText(measured: Measured | null, unit: string): string {
  if (measured === null || !Number.isFinite(measured.value)) return notKnownText;
  const expanded = coverageFactor * measured.u;
  const place = placeOfTwoDigits(expanded);
  if (place === null) return withUnit(significantText(measured.value, 6), unit);
  const figures = `${textAtPlace(measured.value, place)}${noBreak}±${noBreak}${textAtPlace(expanded, place)}`;
  return withUnit(figures, unit);
}

/** The three figures of a range, rounded alike to two significant digits of half its width. */
export function rangeTexts(range: EstimateRange, unit: string): Record<'low' | 'median' | 'high', string> {
  const place = placeOfTwoDigits((range.high - range.low) / 2);
  const text = (value: number): string =>
    withUnit(place === null ? significantText(value, 3) : textAtPlace(value, place), unit);
  return { low: text(range.low), median: text(range.median), high: text(range.high) };
}

/** Booked money: every digit of the decimal text, grouped, with its currency. */
export function moneyText(decimal: string | null, currency: string): string {
  if (decimal === null || !isDecimalText(decimal)) return notKnownText;
  return withUnit(groupDigits(decimal), currency);
}

/** `2031-05-04` as `4 May 2031`, which reads the same everywhere. */
export function dateText(isoDate: string | null): string {
  const [, year, month, day] = /^(\d{4})-(\d{2})-(\d{2})/.exec(isoDate ?? '') ?? [];
  const monthName = monthNames[Number(month) - 1];
  if (year === undefined || monthName === undefined) return notKnownText;
  return `${Number(day)}${noBreak}${monthName}${noBreak}${year}`;
}

const twoDigits = (value: number): string => String(value).padStart(2, '0');

/** A moment's time of day here, `14:05`. */
export function timeText(moment: Date): string {
  return `${twoDigits(moment.getHours())}:${twoDigits(moment.getMinutes())}`;
}

/** A moment's date and time here, `4 May 2031, 14:05`. */
export function dateTimeText(moment: Date): string {
  if (Number.isNaN(moment.getTime())) return notKnownText;
  const date = `${moment.getFullYear()}-${twoDigits(moment.getMonth() + 1)}-${twoDigits(moment.getDate())}`;
  return `${dateText(date)}, ${timeText(moment)}`;
}

/** A fraction, as a number or a decimal text, in percent. A decimal text keeps its digits unless decimals are asked for. */
export function percentText(frac: number | string | null, decimals?: number): string {
  if (frac === null) return notKnownText;
  if (typeof frac === 'string' && decimals === undefined) {
    return isDecimalText(frac) ? `${groupDigits(shiftPoint(frac, 2))}${noBreak}%` : notKnownText;
  }
  return withUnit(fixedText(Number(frac) * 100, decimals ?? 1), '%');
}

/** A probability in words that a reader can weigh: never "0" or "10 chances in 10" for what is not certain. */
export function chanceText(probability: number): string {
  if (!Number.isFinite(probability)) return notKnownText;
  if (probability >= 0.995) return 'more than 99 chances in 100';
  if (probability <= 0.005) return 'less than 1 chance in 100';
  if (probability >= 0.945 || probability <= 0.055) {
    const inHundred = Math.round(probability * 100);
    return `${inHundred} ${inHundred === 1 ? 'chance' : 'chances'} in 100`;
  }
  const inTen = Math.round(probability * 10);
  return `${inTen} ${inTen === 1 ? 'chance' : 'chances'} in 10`;
}

/** A mass in kg or lb is weighed to the gram at best; below one unit four digits say as much. */
const massDecimals = 3;
const smallMassDigits = 4;

function massRounded(shown: string): string {
  const exact = new Dec(shown);
  if (exact.decimalPlaces() <= massDecimals) return shown;
  const rounded = exact.abs().lessThan(1)
    ? exact.toSignificantDigits(smallMassDigits)
    : exact.toDecimalPlaces(massDecimals);
  return rounded.toFixed();
}

/**
 * A stored quantity in the owner's unit: decimal texts keep their digits where the unit is the stored one; of a sum
 * or a difference of masses as many are shown as a scale gives.
 */
export function quantityText(
  quantity: Quantity,
  stored: number | string | null,
  choices: OwnerChoices,
  decimals?: number,
): string {
  if (stored === null) return notKnownText;
  const unit = shownUnit(quantity, choices);
  if (typeof stored === 'string') {
    if (!isDecimalText(stored)) return notKnownText;
    const shown = shownDecimal(quantity, stored, choices);
    const rounded =
      decimals !== undefined
        ? new Dec(shown).toFixed(decimals)
        : quantity === 'lotMassKg'
          ? massRounded(shown)
          : shown === stored
            ? shown
            : new Dec(shown).toSignificantDigits(6).toFixed();
    return withUnit(groupDigits(rounded), unit);
  }
  const shown = shownValue(quantity, stored, choices);
  return withUnit(decimals === undefined ? significantText(shown, 4) : fixedText(shown, decimals), unit);
}

/** A measured quantity with its ± in the owner's unit. */
export function measuredQuantityText(
  quantity: Quantity,
  stored: Measured | null,
  choices: OwnerChoices,
): string {
  if (stored === null) return notKnownText;
  const shown = {
    value: shownValue(quantity, stored.value, choices),
    u: shownDifference(quantity, stored.u, choices),
  };
  return measuredText(shown, shownUnit(quantity, choices));
}

/** Every format of figures, bound to the owner's units and currency. */
export function formatter(choices: OwnerChoices) {
  return {
    number: fixedText,
    significant: significantText,
    measured: measuredText,
    range: rangeTexts,
    money: (decimal: string | null, currency = choices.currency) => moneyText(decimal, currency),
    percent: percentText,
    chance: chanceText,
    date: dateText,
    dateTime: dateTimeText,
    unit: (quantity: Quantity) => shownUnit(quantity, choices),
    quantity: (quantity: Quantity, stored: number | string | null, decimals?: number) =>
      quantityText(quantity, stored, choices, decimals),
    measuredQuantity: (quantity: Quantity, stored: Measured | null) =>
      measuredQuantityText(quantity, stored, choices),
  };
}

export type Formatter = ReturnType<typeof formatter>;
