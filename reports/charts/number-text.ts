/** Stands where a figure could not be worked out. */
export const notKnownText = '–';

const minusSign = '\u2212';

/**
 * Groups the whole part of a plain decimal text in threes with commas, as the
 * statements print money, and writes a true minus sign. The digits themselves
 * are left exactly as they are.
 */
export function groupDigits(decimalText: string): string {
  const [, sign, whole, rest] = /^([-\u2212]?)(\d+)(.*)$/.exec(decimalText) ?? [];
  if (whole === undefined) return decimalText;
  const grouped = whole.replace(/\B(?=(\d{3})+$)/g, ',');
  return `${sign === '' ? '' : minusSign}${grouped}${rest ?? ''}`;
}

/** Making a format takes many times as long as using it. */
const formats = new Map<string, Intl.NumberFormat>();

function formatOf(options: Intl.NumberFormatOptions): Intl.NumberFormat {
  const key = JSON.stringify(options);
  const known = formats.get(key);
  if (known !== undefined) return known;
  const format = new Intl.NumberFormat('en-US', { useGrouping: false, ...options });
  formats.set(key, format);
  return format;
}

function plainText(value: number, options: Intl.NumberFormatOptions): string {
  if (!Number.isFinite(value)) return notKnownText;
  const text = formatOf(options).format(value);
  return groupDigits(/^-[0.]*$/.test(text) ? text.slice(1) : text);
}

/** A number with a fixed number of decimals, grouped; a dash where it is not finite. For estimates, never for booked money. */
export function fixedText(value: number, decimals: number): string {
  return plainText(value, { minimumFractionDigits: decimals, maximumFractionDigits: decimals });
}

/** A number to at most so many significant digits, written out without exponent, trailing zeros left out. */
export function significantText(value: number, digits: number): string {
  return plainText(value, { maximumSignificantDigits: digits });
}

/**
 * The decimal place to which an uncertainty is kept so that two significant
 * digits of it remain (JCGM 100:2008, 7.2.6): 1 for tens, 0 for units, −2 for
 * hundredths. Null for zero and for what is not finite.
 */
export function placeOfTwoDigits(uncertainty: number): number | null {
  if (!Number.isFinite(uncertainty) || uncertainty === 0) return null;
  const exponent = Number(Math.abs(uncertainty).toExponential(1).split('e')[1]);
  return exponent - 1;
}

/** A number rounded to a decimal place as given by `placeOfTwoDigits`. */
export function textAtPlace(value: number, place: number): string {
  if (place <= 0) return fixedText(value, Math.min(-place, 20));
  const step = 10 ** place;
  return fixedText(Math.round(value / step) * step, 0);
}
