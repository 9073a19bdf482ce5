import { Dec } from '../../api/calc/money.ts';

/**
 * What a typed text says as a number. `decimal` is a plain decimal text with a
 * point ("-1240.50"), null where nothing was typed.
 */
export type ParsedDecimal = { ok: true; decimal: string | null } | { ok: false; message: string };

const anySpace = '[ \\u00a0\\u2009\\u202f]';
const grouped = `\\d{1,3}(?:${anySpace}\\d{3})+`;
const spacesBetweenDigits = new RegExp(anySpace, 'g');

/**
 * Reads a typed number strictly. A point is the decimal sign; a comma only
 * where the owner works with decimal commas, and then a point is refused. What
 * could be read in two ways is refused with a message and never guessed.
 * Spaces may group digits in threes, as this program prints them.
 */
export function parseDecimal(typed: string, options: { decimalComma: boolean }): ParsedDecimal {
  const text = typed.trim().replaceAll('\u2212', '-');
  if (text === '') return { ok: true, decimal: null };
  const [sign, other] = options.decimalComma ? [',', '.'] : ['.', ','];
  const [signName, otherName] = options.decimalComma ? ['comma', 'point'] : ['point', 'comma'];
  if (text.includes(other)) {
    return {
      ok: false,
      message: `“${typed.trim()}” has a ${otherName}, and it is not clear whether that marks thousands or decimals. Write decimals after a ${signName}, and nothing between thousands.`,
    };
  }
  const pattern = new RegExp(`^-?(?:(?:${grouped}|\\d+)(?:\\${sign}\\d*)?|\\${sign}\\d+)$`);
  if (!pattern.test(text)) {
    return { ok: false, message: `“${typed.trim()}” is not a number. Write digits only, like 12${sign}5.` };
  }
  const plain = text.replace(spacesBetweenDigits, '').replace(sign, '.');
  const [, minus = '', whole = '', decimals = ''] = /^(-?)(\d*)\.?(\d*)$/.exec(plain) ?? [];
  const digits = `${whole.replace(/^0+(?=\d)/, '') || '0'}${decimals === '' ? '' : `.${decimals}`}`;
  return { ok: true, decimal: /[1-9]/.test(digits) ? `${minus}${digits}` : digits };
}

/** The decimal text behind what was typed, null for an empty field. Only for text that a field has already accepted. */
export function decimalOf(typed: string, options: { decimalComma: boolean }): string | null {
  const parsed = parseDecimal(typed, options);
  if (!parsed.ok) throw new Error(parsed.message);
  return parsed.decimal;
}

/** The number behind what was typed, null for an empty field. For measured quantities, never for money. */
export function numberOf(typed: string, options: { decimalComma: boolean }): number | null {
  const decimal = decimalOf(typed, options);
  return decimal === null ? null : Number(decimal);
}

/** A stored number or decimal as an editable text: no grouping, no exponent, nothing for null. */
export function editableText(
  value: number | string | null | undefined,
  options: { decimalComma: boolean },
): string {
  if (value === null || value === undefined) return '';
  const shortest = String(value);
  const plain =
    typeof value === 'number' && shortest.includes('e')
      ? new Intl.NumberFormat('en-US', { useGrouping: false, maximumSignificantDigits: 17 }).format(value)
      : shortest;
  return options.decimalComma ? plain.replace('.', ',') : plain;
}

/** A decimal text times a power of ten, exactly. For percent and fraction. */
export function shiftPoint(decimal: string, places: number): string {
  return new Dec(decimal).times(new Dec(10).pow(places)).toFixed();
}
