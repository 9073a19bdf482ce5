import { Dec, sumOf } from '../money.ts';

/** A day of the log as it is summed up; masses as decimal texts, null: not entered. */
export interface SummedDay {
  feedDryT: string | null;
  concentrateDryKg: string | null;
  hoursRun: string | null;
  supplies: readonly { supplyId: string; quantity: string }[];
  labour: readonly { supplyId: string; hours: string }[];
}

export interface DaySums {
  days: number;
  feedDryT: string;
  concentrateDryKg: string;
  hoursRun: string;
  labourHours: string;
  /** kg of dry concentrate from a dry tonne of feed, over the days that have both; null: none has. */
  concentrateKgPerT: number | null;
  /** By supply, in the supply's own unit. */
  supplies: { supplyId: string; quantity: string }[];
}

/** Days of the log added up exactly; what was not entered counts as nothing. */
export function daySums(days: readonly SummedDay[]): DaySums {
  const text = (values: readonly (string | null)[]): string =>
    sumOf(values.filter((one): one is string => one !== null)).toFixed();
  const both = days.filter((one) => one.feedDryT !== null && one.concentrateDryKg !== null);
  const feedOfBoth = sumOf(both.map((one) => one.feedDryT ?? '0'));
  const used = new Map<string, string>();
  for (const { supplies } of days)
    for (const { supplyId, quantity } of supplies)
      used.set(supplyId, new Dec(used.get(supplyId) ?? '0').plus(quantity).toFixed());
  return {
    days: days.length,
    feedDryT: text(days.map((one) => one.feedDryT)),
    concentrateDryKg: text(days.map((one) => one.concentrateDryKg)),
    hoursRun: text(days.map((one) => one.hoursRun)),
    labourHours: text(days.flatMap(({ labour }) => labour.map(({ hours }) => hours))),
    concentrateKgPerT: feedOfBoth.isZero()
      ? null
      : sumOf(both.map((one) => one.concentrateDryKg ?? '0'))
          .div(feedOfBoth)
          .toNumber(),
    supplies: [...used].map(([supplyId, quantity]) => ({ supplyId, quantity })),
  };
}
