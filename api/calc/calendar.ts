/**
 * ISO calendar dates (`2026-05-31`) without clock or time zone. Inside they are counted in days from
 * 1970-01-01 of the Gregorian calendar, because a settlement asks for many of them (Howard Hinnant,
 * "chrono-Compatible Low-Level Date Algorithms", 2013: days_from_civil and civil_from_days).
 */

const LENGTHS = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

function lengthOfMonth(year: number, month: number): number {
  const isLeap = (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0;
  return month === 2 && isLeap ? 29 : (LENGTHS[month - 1] ?? 0);
}

/** The number that the digits from one place to another say; NaN where one is none. */
function digits(text: string, from: number, to: number): number {
  let number = 0;
  for (let at = from; at < to; at += 1) {
    const digit = text.charCodeAt(at) - 48;
    if (!(digit >= 0 && digit <= 9)) return Number.NaN;
    number = 10 * number + digit;
  }
  return number;
}

/** Year, month and day of a date that exists, written year-month-day; otherwise null. */
function civilOf(text: string): [year: number, month: number, day: number] | null {
  if (text.length !== 10 || text.charAt(4) !== '-' || text.charAt(7) !== '-') return null;
  const [year, month, day] = [digits(text, 0, 4), digits(text, 5, 7), digits(text, 8, 10)];
  const exists = year >= 0 && month >= 1 && month <= 12 && day >= 1 && day <= lengthOfMonth(year, month);
  return exists ? [year, month, day] : null;
}

/** Days from 1970-01-01; the year is taken to begin in March, so that a leap day is its last. */
function daysOf(year: number, month: number, day: number): number {
  const y = month <= 2 ? year - 1 : year;
  const era = Math.floor(y / 400);
  const yearOfEra = y - 400 * era;
  const dayOfYear = Math.floor((153 * ((month + 9) % 12) + 2) / 5) + day - 1;
  const dayOfEra = 365 * yearOfEra + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100) + dayOfYear;
  return 146_097 * era + dayOfEra - 719_468;
}

function dayOf(text: string): number {
  const civil = civilOf(text);
  return civil === null ? Number.NaN : daysOf(...civil);
}

/** The date so many days from 1970-01-01; an empty text for NaN. */
function textOf(days: number): string {
  if (Number.isNaN(days)) return '';
  const shifted = days + 719_468;
  const era = Math.floor(shifted / 146_097);
  const dayOfEra = shifted - 146_097 * era;
  const yearOfEra = Math.floor(
    (dayOfEra -
      Math.floor(dayOfEra / 1460) +
      Math.floor(dayOfEra / 36_524) -
      Math.floor(dayOfEra / 146_096)) /
      365,
  );
  const dayOfYear = dayOfEra - (365 * yearOfEra + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100));
  const fromMarch = Math.floor((5 * dayOfYear + 2) / 153);
  const day = dayOfYear - Math.floor((153 * fromMarch + 2) / 5) + 1;
  const month = fromMarch < 10 ? fromMarch + 3 : fromMarch - 9;
  const year = yearOfEra + 400 * era + (month <= 2 ? 1 : 0);
  return `${String(year).padStart(4, '0')}-${month < 10 ? '0' : ''}${month}-${day < 10 ? '0' : ''}${day}`;
}

/** 1 Monday … 7 Sunday (ISO 8601); 1970-01-01 was a Thursday. */
const weekdayOf = (days: number): number => ((((days + 3) % 7) + 7) % 7) + 1;

/** True for a date that exists, written year-month-day. */
export function isIsoDate(text: string): boolean {
  return civilOf(text) !== null;
}

/** The date so many days later; an empty text where the date is none. */
export function addDays(date: string, days: number): string {
  return textOf(dayOf(date) + days);
}

/** Whole days from the first to the second date; negative when the second is earlier. */
export function daysBetween(from: string, to: string): number {
  return dayOf(to) - dayOf(from);
}

/** 1 Monday … 7 Sunday (ISO 8601). */
export function weekday(date: string): number {
  return weekdayOf(dayOf(date));
}

/** First and last day of the calendar month that lies `monthsAfter` months after the date's own; empty texts where the date is none. */
export function monthOf(date: string, monthsAfter = 0): { from: string; to: string } {
  const civil = civilOf(date);
  if (civil === null) return { from: '', to: '' };
  const months = 12 * civil[0] + civil[1] - 1 + monthsAfter;
  const [year, month] = [Math.floor(months / 12), (((months % 12) + 12) % 12) + 1];
  const first = daysOf(year, month, 1);
  return { from: textOf(first), to: textOf(first + lengthOfMonth(year, month) - 1) };
}

/** Monday and Sunday of the ISO week that lies `weeksAfter` weeks after the date's own. */
export function weekOf(date: string, weeksAfter = 0): { from: string; to: string } {
  const day = dayOf(date) + 7 * weeksAfter;
  const monday = day - weekdayOf(day) + 1;
  return { from: textOf(monday), to: textOf(monday + 6) };
}

/** Monday to Friday and not among the holidays named. */
export function isBusinessDay(date: string, holidays: readonly string[] = []): boolean {
  return weekday(date) <= 5 && !holidays.includes(date);
}

/**
 * The business day `offset` business days after the date (before it when
 * negative). Offset 0 is the date itself, or the next business day where it is none.
 * An empty text where the date is none.
 */
export function addBusinessDays(date: string, offset: number, holidays: readonly string[] = []): string {
  if (!isIsoDate(date)) return '';
  let day = date;
  if (offset === 0) {
    while (!isBusinessDay(day, holidays)) day = addDays(day, 1);
    return day;
  }
  const step = offset > 0 ? 1 : -1;
  for (let left = Math.abs(offset); left > 0;) {
    day = addDays(day, step);
    if (isBusinessDay(day, holidays)) left -= 1;
  }
  return day;
}

/** Every business day from the first to the last date, both included. */
export function businessDays(from: string, to: string, holidays: readonly string[] = []): string[] {
  const [first, last] = [dayOf(from), dayOf(to)];
  const found: string[] = [];
  for (let day = first; day <= last; day += 1) {
    if (weekdayOf(day) > 5) continue;
    const date = textOf(day);
    if (!holidays.includes(date)) found.push(date);
  }
  return found;
}

export type DayCount = 'ACT/360' | 'ACT/365' | '30/360';

/**
 * Days of interest and days in the year by a day count convention. ACT counts the
 * days of the calendar; 30/360 is the bond basis of the 2006 ISDA Definitions,
 * section 4.16(f): the 31st counts as the 30th (at the end only if the start is
 * also on the 30th or 31st).
 */
export function interestDays({ from, to, dayCount }: { from: string; to: string; dayCount: DayCount }): {
  days: number;
  yearDays: number;
} {
  if (dayCount !== '30/360') {
    return { days: daysBetween(from, to), yearDays: dayCount === 'ACT/360' ? 360 : 365 };
  }
  const [y1 = 0, m1 = 0, rawD1 = 0] = from.split('-').map(Number);
  const [y2 = 0, m2 = 0, rawD2 = 0] = to.split('-').map(Number);
  const d1 = Math.min(rawD1, 30);
  const d2 = rawD2 === 31 && d1 === 30 ? 30 : rawD2;
  return { days: 360 * (y2 - y1) + 30 * (m2 - m1) + (d2 - d1), yearDays: 360 };
}
