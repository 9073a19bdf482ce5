import { addDays, daysBetween, monthOf } from '../calendar.ts';
import { Dec, sumOf } from '../money.ts';

/** A batch with the furnace hours that it takes. */
export interface FurnaceWork {
  code: string;
  /** The day it is planned for, or was started. */
  on: string;
  /** Decimal texts. */
  furnaceHours: string;
  dryMassKg: string;
}

export interface FurnaceMonth {
  month: string;
  /** Days of the season in it. */
  days: number;
  /** days × hours a day; null where the hours are not known. */
  availableHours: string | null;
  plannedHours: string;
  plannedBatches: string[];
  treatedDryKg: string;
}

/** The first day of every month from one day to another. */
export function monthsBetween(from: string, to: string): string[] {
  const months: string[] = [];
  for (let month = monthOf(from).from; month !== '' && month <= to; month = monthOf(month, 1).from)
    months.push(month);
  return months;
}

/**
 * Furnace hours there are in each month of a season against those that its batches take.
 *
 * available = days of the season in the month × furnace hours a day. Source: common practice.
 */
export function furnaceCapacity({
  season,
  furnaceHoursPerDay,
  batches,
}: {
  season: { startsOn: string; endsOn: string };
  /** Decimal text; null where nobody has said. */
  furnaceHoursPerDay: string | null;
  batches: readonly FurnaceWork[];
}): FurnaceMonth[] {
  return monthsBetween(season.startsOn, season.endsOn).map((month) => {
    const { from, to } = monthOf(month);
    const first = from < season.startsOn ? season.startsOn : from;
    const last = to > season.endsOn ? season.endsOn : to;
    const days = daysBetween(first, addDays(last, 1));
    const own = batches.filter(({ on }) => on >= from && on <= to);
    return {
      month,
      days,
      availableHours: furnaceHoursPerDay === null ? null : new Dec(furnaceHoursPerDay).times(days).toFixed(),
      plannedHours: sumOf(own.map(({ furnaceHours }) => furnaceHours)).toFixed(),
      plannedBatches: own.map(({ code }) => code),
      treatedDryKg: sumOf(own.map(({ dryMassKg }) => dryMassKg)).toFixed(),
    };
  });
}
