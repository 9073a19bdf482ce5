import { Decimal } from 'decimal.js';
import { Dec, type DecimalNumber } from './money.ts';

/** How a figure is rounded: half up means half away from zero, truncate means towards zero. */
export interface RoundingRule {
  decimals: number;
  rule: 'half-up' | 'half-even' | 'truncate';
  /** Round to multiples of this instead of the last decimal, for example '0.025' ounces; null otherwise. */
  multipleOf: string | null;
}

const MODES = {
  'half-up': Decimal.ROUND_HALF_UP,
  'half-even': Decimal.ROUND_HALF_EVEN,
  truncate: Decimal.ROUND_DOWN,
} as const;

/** Rounds by the rule; a multiple is rounded first, then written with the rule's decimals. */
export function roundBy(value: DecimalNumber, rounding: RoundingRule): DecimalNumber {
  const mode = MODES[rounding.rule];
  if (rounding.multipleOf === null)
    // A decimal never changes, and many have no more decimals than they are rounded to.
    return value.decimalPlaces() <= rounding.decimals
      ? value
      : value.toDecimalPlaces(rounding.decimals, mode);
  return new Dec(value.div(rounding.multipleOf).toDecimalPlaces(0, mode))
    .times(rounding.multipleOf)
    .toDecimalPlaces(rounding.decimals, mode);
}

/** The rounded value with all its decimals written out, minus zero written as zero. */
export function roundedText(value: DecimalNumber, rounding: RoundingRule): string {
  return decimalsOf(roundBy(value, rounding), rounding);
}

/** A value that is rounded already, with all the decimals of its rule; minus zero is written as zero. */
export function decimalsOf(rounded: DecimalNumber, { decimals }: RoundingRule): string {
  const exact = plainText(rounded);
  const text = exact.startsWith('-') && rounded.isZero() ? exact.slice(1) : exact;
  const point = text.indexOf('.');
  if (point < 0) return decimals === 0 ? text : `${text}.${'0'.repeat(decimals)}`;
  return text.padEnd(point + 1 + decimals, '0');
}

/** Decimal digits in one word of a decimal.js number (decimal.js API, "Properties": base 1e7). */
const WORD_DIGITS = 7;

/** The digits of a decimal: those of one or two words, as nearly all figures of a statement are, without the detours of any size. */
function plainText(value: DecimalNumber): string {
  const [first, second, more] = value.d;
  if (first === undefined || first === 0 || more !== undefined) return value.toFixed();
  const digits = second === undefined ? `${first}` : `${first}${`${second}`.padStart(WORD_DIGITS, '0')}`;
  const whole = Math.floor(value.e / WORD_DIGITS) + 1;
  const decimals = WORD_DIGITS * ((second === undefined ? 1 : 2) - whole);
  const sign = value.s < 0 ? '-' : '';
  if (decimals <= 0) return `${sign}${digits}${'0'.repeat(-decimals)}`;
  const text = digits.padStart(decimals + 1, '0');
  let end = text.length;
  while (text.charCodeAt(end - 1) === 48 && end > text.length - decimals) end -= 1;
  const point = text.length - decimals;
  const fraction = end === point ? '' : `.${text.slice(point, end)}`;
  return `${sign}${text.slice(0, point)}${fraction}`;
}

const WORDS = {
  'half-up': 'halves up',
  'half-even': 'halves to the even digit',
  truncate: 'the rest cut off',
} as const;

/** For example "to 2 decimals, halves up" or "to multiples of 0.025, the rest cut off". */
export function roundingSentence(rounding: RoundingRule): string {
  const to =
    rounding.multipleOf === null
      ? `to ${rounding.decimals} decimal${rounding.decimals === 1 ? '' : 's'}`
      : `to multiples of ${rounding.multipleOf}`;
  return `${to}, ${WORDS[rounding.rule]}`;
}

/** Shorthand for the ordinary case: so many decimals, halves up. */
export function halfUp(decimals: number): RoundingRule {
  return { decimals, rule: 'half-up', multipleOf: null };
}
