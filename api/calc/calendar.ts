import {
  addDays as daysAfter,
  addMonths,
  differenceInCalendarDays,
  eachDayOfInterval,
  endOfISOWeek,
  endOfMonth,
  formatISO,
  getISODay,
  isValid,
  parseISO,
  startOfISOWeek,
  startOfMonth,
} from 'date-fns';

/** ISO calendar dates (`2026-05-31`) without clock or time zone. */

const ISO_DATE = /^\d{4}-\d{2}-\d{2}$/;

const isoOf = (date: Date): string => (isValid(date) ? formatISO(date, { representation: 'date' }) : '');

/** True for a date that exists, written year-month-day. */
export function isIsoDate(text: string): boolean {
  return ISO_DATE.test(text) && isValid(parseISO(text));
}

/** The date so many days later; an empty text where the date is none. */
export function addDays(date: string, days: number): string {
  return isoOf(daysAfter(parseISO(date), days));
}

/** Whole days from the first to the second date; negative when the second is earlier. */
export function daysBetween(from: string, to: string): number {
  return differenceInCalendarDays(parseISO(to), parseISO(from));
}

/** 1 Monday … 7 Sunday (ISO 8601). */
export function weekday(date: string): number {
  return getISODay(parseISO(date));
}

/** First and last day of the calendar month that lies `monthsAfter` months after the date's own. */
export function monthOf(date: string, monthsAfter = 0): { from: string; to: string } {
  const month = addMonths(startOfMonth(parseISO(date)), monthsAfter);
  return { from: isoOf(month), to: isoOf(endOfMonth(month)) };
}

/** Monday and Sunday of the ISO week that lies `weeksAfter` weeks after the date's own. */
export function weekOf(date: string, weeksAfter = 0): { from: string; to: string } {
  const week = daysAfter(parseISO(date), 7 * weeksAfter);
  return { from: isoOf(startOfISOWeek(week)), to: isoOf(endOfISOWeek(week)) };
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
  if (!isIsoDate(from) || !isIsoDate(to) || from > to) return [];
  return eachDayOfInterval({ start: parseISO(from), end: parseISO(to) })
    .map(isoOf)
    .filter((day) => isBusinessDay(day, holidays));
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
