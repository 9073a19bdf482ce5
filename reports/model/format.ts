import { dayWords } from '../../api/calc/day-words.ts';
import { placeOfTwoDigits } from '../charts/number-text.ts';
import { Dec, grouped, isDecimalText, sumOf } from '../../api/calc/money.ts';

/** Printed where there is no figure. */
export const NO_FIGURE = '–';

/**
 * A decimal text as it prints: thousands parted by commas, a true minus sign,
 * all its decimals. Nothing is rounded: '-1234567.80' → '−1,234,567.80'.
 */
export function formatDecimal(value: string): string {
  if (!isDecimalText(value)) {
    throw new Error(`"${value}" is not a plain decimal number, so it cannot be printed as one.`);
  }
  return grouped(/^-[0.]+$/.test(value) ? value.slice(1) : value);
}

/** A decimal text rounded half up to `decimals` places for print: ('12.345', 2) → '12.35'. */
export function formatRounded(value: string, decimals: number): string {
  return formatDecimal(new Dec(value).toFixed(decimals));
}

/** Booked money without its currency, for a column whose head names it. Never rounds: money beyond its decimals is an error. */
export function formatAmount(amount: string, decimals: number): string {
  const exact = new Dec(amount);
  if (exact.decimalPlaces() > decimals) {
    throw new Error(
      `The amount ${amount} has more than ${decimals} decimals; booked money is rounded before it is printed.`,
    );
  }
  return formatDecimal(exact.toFixed(decimals));
}

/** Booked money with its currency: ('-1234.5', 2, 'USD') → '−1,234.50 USD'. */
export function formatMoney(amount: string, decimals: number, currency: string): string {
  return `${formatAmount(amount, decimals)} ${currency}`;
}

/** An estimate, never booked, rounded for print: (1234.567, 1) → '1,234.6'; a dash where it is not finite. */
export function formatEstimate(value: number, decimals: number): string {
  return Number.isFinite(value) ? formatRounded(String(value), decimals) : NO_FIGURE;
}

/**
 * An estimate with its 10 to 90 % range, all to the place that leaves half the width two significant digits, as an
 * uncertainty is rounded (JCGM 100:2008, 7.2.6) and as the pages round it: '900 (874 to 930)'.
 */
export function formatRange({ p10, p50, p90 }: { p10: number; p50: number; p90: number }): string {
  const place = placeOfTwoDigits((p90 - p10) / 2);
  if (place === null) return formatEstimate(p50, 1);
  const step = 10 ** Math.max(0, place);
  const atPlace = (figure: number) =>
    place <= 0 ? formatEstimate(figure, -place) : formatEstimate(Math.round(figure / step) * step, 0);
  return `${atPlace(p50)} (${atPlace(p10)} to ${atPlace(p90)})`;
}

/** An ISO date as it prints, here as in the settlement; what is no date must not reach a print. */
export function formatDate(isoDate: string): string {
  const words = dayWords(isoDate);
  if (words === isoDate) throw new Error(`"${isoDate}" is not an ISO date such as 2026-07-03.`);
  return words;
}

/** The exact sum of decimal texts, as decimal text. */
export function sumText(values: readonly string[]): string {
  return sumOf(values).toFixed();
}

/** The exact sum with the decimals of the term that has the most, as it stands under a column: ['1.50', '2.5'] → '4.00'. */
export function sumAsPrinted(values: readonly string[]): string {
  const decimals = Math.max(0, ...values.map((value) => value.split('.')[1]?.length ?? 0));
  return sumOf(values).toFixed(decimals);
}
