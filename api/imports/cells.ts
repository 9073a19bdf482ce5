import { isIsoDate } from '../calc/calendar.ts';
import type { Mill } from '../schemas/mill.ts';

/** How the mill's files write dates and decimals; nothing of it is guessed from a file. */
export type FileSettings = Pick<Mill, 'importDateOrder' | 'decimalComma'>;

/** A cell as it is meant, or what would be right instead. */
export type Read<T> = { value: T } | { must: string };

const GROUP = `[ .,'’\\u00a0\\u2007\\u2009\\u202f]`;
const LOOKS_GROUPED = new RegExp(`^-?\\d{1,3}(?:${GROUP}\\d{3})+(?:[.,]\\d+)?$`);
const MOST_DECIMALS = 8;

/** A date as YYYY-MM-DD. Besides that form only the one of the mill's settings is taken. */
export function dateCell(text: string, { importDateOrder }: FileSettings): Read<string> {
  const right = {
    iso: 'must be a date as YYYY-MM-DD, the order that the settings give for files',
    'day-month-year': 'must be a date as YYYY-MM-DD, or day, month and year as 31.05.2026 or 31/05/2026',
    'month-day-year': 'must be a date as YYYY-MM-DD, or month, day and year as 05/31/2026',
  }[importDateOrder];
  if (/^\d{4}-\d{2}-\d{2}$/.test(text))
    return isIsoDate(text) ? { value: text } : { must: 'must be a day that the calendar has' };
  if (/^\d{1,2}([./-])\d{1,2}\1\d{2}$/.test(text) && importDateOrder !== 'iso')
    return { must: 'must have the year in four digits' };
  const [, first = '', , second = '', year = ''] = /^(\d{1,2})([./-])(\d{1,2})\2(\d{4})$/.exec(text) ?? [];
  if (first === '' || importDateOrder === 'iso') return { must: right };
  const [day, month] = importDateOrder === 'day-month-year' ? [first, second] : [second, first];
  const date = `${year}-${month.padStart(2, '0')}-${day.padStart(2, '0')}`;
  return isIsoDate(date)
    ? { value: date }
    : { must: `must be a day that the calendar has; the settings read dates in files as ${importDateOrder}` };
}

/** A plain decimal with a point, digits as they stand in the cell. What could be read in two ways is refused. */
export function decimalCell(typed: string, { decimalComma }: FileSettings): Read<string> {
  const text = typed.replace('\u2212', '-');
  const [sign, other, example] = decimalComma ? [',', '.', '1240,5'] : ['.', ',', '1240.5'];
  const otherName = decimalComma ? 'point' : 'comma';
  if (new RegExp(`^-?\\d+(\\${sign}\\d+)?$`).test(text)) {
    const plain = text.replace(',', '.');
    const decimals = plain.split('.')[1]?.length ?? 0;
    return decimals > MOST_DECIMALS
      ? { must: `must have at most ${MOST_DECIMALS} decimals, but has ${decimals}` }
      : { value: plain };
  }
  if (/^-?\d+[.,]\d+$/.test(text) && text.includes(other))
    return {
      must: `must not have a ${otherName}: the settings say that files have a decimal ${decimalComma ? 'comma' : 'point'}, as in ${example}`,
    };
  if (LOOKS_GROUPED.test(text)) return { must: `must be written without grouping of digits, as ${example}` };
  if (/^-?\d+([.,]\d+)?[eE][+-]?\d+$/.test(text))
    return { must: `must be written out, as ${example}, not with a power of ten` };
  if (/^-?[\d.,]+\s*[^\d\s.,]+.*$/.test(text))
    return { must: `must be the number alone, as ${example}: its unit is in the name of the column` };
  return { must: `must be a number such as ${example}, without grouping of digits` };
}

const yes = ['yes', 'y', 'true', '1'];
const no = ['no', 'n', 'false', '0'];

export function yesNoCell(text: string): Read<boolean> {
  const word = text.toLowerCase();
  if (yes.includes(word)) return { value: true };
  if (no.includes(word)) return { value: false };
  return { must: 'must be yes or no' };
}

/** A name or code: blanks that do not break lines count as blanks, and letters are composed (Unicode NFC). */
export function nameCell(text: string): string {
  return text
    .replace(/[\u00a0\u2007\u202f]/g, ' ')
    .normalize('NFC')
    .trim();
}

/** Words of any length, with LF between lines. */
export function textCell(text: string): string {
  return text.replace(/\r\n?/g, '\n').trim();
}
