import {
  addMonths,
  addWeeks,
  endOfISOWeek,
  endOfMonth,
  formatISO,
  getISODay,
  isValid,
  parseISO,
  startOfISOWeek,
  startOfMonth,
} from 'date-fns';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  addBusinessDays,
  addDays,
  businessDays,
  daysBetween,
  interestDays,
  isIsoDate,
  monthOf,
  weekday,
  weekOf,
} from '../../api/calc/calendar.ts';

/** The ISO date of a day counted from 1970-01-01, by the runtime's own UTC calendar. */
const dateOfDay = (day: number) => new Date(day * 86_400_000).toISOString().slice(0, 10);
const anyDay = fc.integer({ min: 0, max: 40_000 });

describe('calendar dates', () => {
  it.each(['2026-02-28', '2024-02-29', '2000-02-29', '1999-12-31'])('knows %s', (date) => {
    expect(isIsoDate(date)).toBe(true);
  });
  it.each(['2026-02-29', '1900-02-29', '2026-13-01', '2026-1-1', '', '2026-01-01T00:00'])(
    'refuses “%s”',
    (date) => {
      expect(isIsoDate(date)).toBe(false);
    },
  );

  it('agrees with the UTC calendar of the runtime on weekdays and distances', () => {
    fc.assert(
      fc.property(anyDay, anyDay, (a, b) => {
        expect(isIsoDate(dateOfDay(a))).toBe(true);
        expect(weekday(dateOfDay(a)) % 7).toBe(new Date(a * 86_400_000).getUTCDay());
        expect(daysBetween(dateOfDay(a), dateOfDay(b))).toBe(b - a);
        expect(addDays(dateOfDay(a), b - a)).toBe(dateOfDay(b));
      }),
    );
  });

  it('agrees with date-fns on months, weeks and weekdays from the year 1 to 9000', () => {
    const text = (date: Date) => formatISO(date, { representation: 'date' });
    const day = fc.record({
      year: fc.integer({ min: 1, max: 9000 }),
      month: fc.integer({ min: 1, max: 12 }),
      day: fc.integer({ min: 1, max: 31 }),
    });
    fc.assert(
      fc.property(day, fc.integer({ min: -30, max: 30 }), (civil, after) => {
        const two = (number: number) => String(number).padStart(2, '0');
        const date = `${String(civil.year).padStart(4, '0')}-${two(civil.month)}-${two(civil.day)}`;
        const known = parseISO(date);
        expect(isIsoDate(date)).toBe(isValid(known));
        if (!isValid(known)) return;
        expect(weekday(date)).toBe(getISODay(known));
        if (civil.year < 4) return; // date-fns would come out before the year 1
        const month = addMonths(startOfMonth(known), after);
        expect(monthOf(date, after)).toEqual({ from: text(month), to: text(endOfMonth(month)) });
        const week = addWeeks(known, after);
        expect(weekOf(date, after)).toEqual({
          from: text(startOfISOWeek(week)),
          to: text(endOfISOWeek(week)),
        });
      }),
      { numRuns: 2000 },
    );
  });

  it('counts business days one by one: so many weekdays lie between', () => {
    fc.assert(
      fc.property(anyDay, fc.integer({ min: 1, max: 30 }), (day, offset) => {
        const isWeekday = (n: number) => new Date(n * 86_400_000).getUTCDay() % 6 !== 0;
        let [after, before] = [day, day];
        for (let left = offset; left > 0;) if (isWeekday(++after)) left -= 1;
        for (let left = offset; left > 0;) if (isWeekday(--before)) left -= 1;
        expect(addBusinessDays(dateOfDay(day), offset)).toBe(dateOfDay(after));
        expect(addBusinessDays(dateOfDay(day), -offset)).toBe(dateOfDay(before));
      }),
    );
  });

  it('gives no date for what is none', () => {
    expect(addDays('2026-02-30', 1)).toBe('');
    expect(monthOf('2026-02-30', 1)).toEqual({ from: '', to: '' });
    expect(weekOf('soon')).toEqual({ from: '', to: '' });
    expect(daysBetween('2026-02-30', '2026-03-01')).toBeNaN();
    expect(weekday('2026-02-30')).toBeNaN();
    expect(addBusinessDays('', 3)).toBe('');
    expect(addBusinessDays('soon', 0)).toBe('');
    expect(businessDays('', '2026-01-01')).toEqual([]);
  });

  it('passes over holidays and weekends', () => {
    // Friday 3 April 2026 and Monday 6 April 2026 taken as holidays.
    const holidays = ['2026-04-03', '2026-04-06'];
    expect(addBusinessDays('2026-04-02', 1, holidays)).toBe('2026-04-07');
    expect(addBusinessDays('2026-04-07', -1, holidays)).toBe('2026-04-02');
    expect(addBusinessDays('2026-04-04', 0, holidays)).toBe('2026-04-07');
    expect(businessDays('2026-04-01', '2026-04-08', holidays)).toEqual([
      '2026-04-01',
      '2026-04-02',
      '2026-04-07',
      '2026-04-08',
    ]);
  });

  it('finds months and weeks around the turn of a year', () => {
    expect(monthOf('2025-12-31', 1)).toEqual({ from: '2026-01-01', to: '2026-01-31' });
    expect(monthOf('2026-01-31', 1)).toEqual({ from: '2026-02-01', to: '2026-02-28' });
    expect(monthOf('2026-01-15', -1)).toEqual({ from: '2025-12-01', to: '2025-12-31' });
    expect(weekOf('2026-01-01')).toEqual({ from: '2025-12-29', to: '2026-01-04' });
    expect(weekOf('2026-01-04', 1)).toEqual({ from: '2026-01-05', to: '2026-01-11' });
  });
});

describe('days of interest', () => {
  // 30/360, bond basis, by 2006 ISDA Definitions 4.16(f); the examples are from memory.
  it.each([
    ['2007-01-15', '2007-01-30', 15],
    ['2007-01-15', '2007-02-15', 30],
    ['2007-09-30', '2008-03-31', 180],
    ['2007-09-30', '2007-10-31', 30],
    ['2007-01-15', '2007-01-31', 16],
    ['2007-01-31', '2007-02-28', 28],
    ['2007-02-28', '2007-03-31', 33],
    ['2006-08-31', '2007-02-28', 178],
  ])('counts %s to %s as %i days 30/360', (from, to, days) => {
    expect(interestDays({ from, to, dayCount: '30/360' })).toEqual({ days, yearDays: 360 });
  });
  it('counts calendar days over 360 or 365', () => {
    const span = { from: '2024-02-15', to: '2024-03-15' };
    expect(interestDays({ ...span, dayCount: 'ACT/360' })).toEqual({ days: 29, yearDays: 360 });
    expect(interestDays({ ...span, dayCount: 'ACT/365' })).toEqual({ days: 29, yearDays: 365 });
  });
});
