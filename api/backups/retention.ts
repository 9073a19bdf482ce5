/** How many of the latest days, weeks and months with a backup keep one. */
const KEPT = { days: 7, weeks: 4, months: 12 };

const MS_PER_DAY = 86_400_000;

/**
 * Which backups to keep: the last of each of the latest 7 days, 4 weeks and 12 months that have one, so that a mill that
 * stands still all winter keeps what it has. Days, weeks (from Monday, ISO 8601) and months by UTC.
 */
export function keptMoments(moments: readonly Date[]): Set<Date> {
  const latestFirst = [...moments].sort((a, b) => b.getTime() - a.getTime());
  const kept = new Set<Date>();
  const keep = (most: number, periodOf: (moment: Date) => string): void => {
    const seen = new Set<string>();
    for (const moment of latestFirst) {
      const period = periodOf(moment);
      if (seen.has(period)) continue;
      if (seen.size === most) break;
      seen.add(period);
      kept.add(moment);
    }
  };
  keep(KEPT.days, (moment) => moment.toISOString().slice(0, 10));
  // 1970-01-01 was a Thursday: three days on, weeks begin where numbers of days divide by seven.
  keep(KEPT.weeks, (moment) => String(Math.floor((Math.floor(moment.getTime() / MS_PER_DAY) + 3) / 7)));
  keep(KEPT.months, (moment) => moment.toISOString().slice(0, 7));
  return kept;
}
