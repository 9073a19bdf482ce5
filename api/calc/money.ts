import { Decimal } from 'decimal.js';

/**
 * Decimal arithmetic for money, booked masses, assays and prices: 60 significant
 * digits, so that only the rounding that the terms ask for is ever seen.
 */
export const Dec = Decimal.clone({
  precision: 60,
  rounding: Decimal.ROUND_HALF_UP,
  toExpNeg: -60,
  toExpPos: 60,
});

/** A decimal number of the kind made by `Dec`. */
export type DecimalNumber = Decimal;

const DECIMAL_TEXT = /^-?\d+(\.\d+)?$/;

/** True for a plain decimal text such as `12`, `-0.05` or `1234.50`: no exponent, no separators. */
export function isDecimalText(text: string): boolean {
  return DECIMAL_TEXT.test(text);
}

/** Contracts say the same of every parcel; beyond so many different texts they are forgotten and worked out anew. */
const MOST_KEPT = 4096;

/** Makes a function of a text remember what it gave, for texts that are asked for again and again. */
export function keptByText<Value>(make: (text: string) => Value): (text: string) => Value {
  const kept = new Map<string, Value>();
  return (text) => {
    let value = kept.get(text);
    if (value === undefined) {
      value = make(text);
      if (kept.size >= MOST_KEPT) kept.clear();
      kept.set(text, value);
    }
    return value;
  };
}

/** The decimal of a figure that stands in a contract: read once, because every parcel asks for it. */
export const constant = keptByText((text): DecimalNumber => new Dec(text));

/** Exact sum of decimal texts or numbers. */
export function sumOf(values: readonly (DecimalNumber | string)[]): DecimalNumber {
  return values.reduce<DecimalNumber>((sum, value) => sum.plus(value), new Dec(0));
}

/** Exact sum of decimal texts, such as quotations: as whole numbers as long as those are exact, which many of them ask for. */
export function sumOfTexts(texts: readonly string[]): DecimalNumber {
  const decimalsOf = (text: string): number => (text.includes('.') ? text.length - text.indexOf('.') - 1 : 0);
  const decimals = Math.max(0, ...texts.map(decimalsOf));
  let whole = 0;
  for (const text of texts) {
    const one = Number(`${text.replace('.', '')}${'0'.repeat(decimals - decimalsOf(text))}`);
    whole += one;
    if (!Number.isSafeInteger(one) || !Number.isSafeInteger(whole)) return sumOf(texts);
  }
  return new Dec(`${whole}e-${decimals}`);
}

/**
 * Splits an amount by shares so that the parts add up to it exactly: every part
 * but the last is truncated to `decimals`, the last takes the rest. `shares` are
 * relative and must not be all zero.
 */
export function allocate({
  amount,
  shares,
  decimals,
}: {
  amount: DecimalNumber;
  shares: readonly DecimalNumber[];
  decimals: number;
}): DecimalNumber[] {
  const whole = sumOf(shares);
  const parts = shares
    .slice(0, -1)
    .map((share) => amount.times(share).div(whole).toDecimalPlaces(decimals, Decimal.ROUND_DOWN));
  return [...parts, amount.minus(sumOf(parts))];
}

/** Groups the whole part of a decimal text by thousands for reading: `-12345.60` gives `−12,345.60`. */
export function grouped(text: string): string {
  const from = text.startsWith('-') ? 1 : 0;
  const point = text.indexOf('.');
  const to = point < 0 ? text.length : point;
  let whole = text.slice(Math.max(from, to - 3), to);
  for (let end = to - 3; end > from; end -= 3) whole = `${text.slice(Math.max(from, end - 3), end)},${whole}`;
  return `${from === 1 ? '−' : ''}${whole}${point < 0 ? '' : text.slice(point)}`;
}
