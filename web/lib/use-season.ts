import { useSuspenseQueries } from '@tanstack/react-query';
import { useNavigate } from '@tanstack/react-router';
import type { Season } from '../../api/schemas/mill.ts';
import { newestLotQuery, seasonsQuery } from './bench-queries.ts';
import { todayHere } from './today.ts';
import { useAsked } from './use-asked.ts';

/** The season that a day falls in, else the newest. */
export function seasonOn(seasons: readonly Season[], day: string): Season | undefined {
  return seasons.find(({ startsOn, endsOn }) => startsOn <= day && day <= endsOn) ?? seasons[0];
}

/**
 * The season that the address names, else the one of the newest lot, in which work goes on, else the one that runs
 * today, else the newest; and a way to another.
 */
export function useSeason(): {
  seasons: Season[];
  season: Season | undefined;
  choose: (seasonId: string) => void;
} {
  const [{ data: seasons }, { data: newestLot }] = useSuspenseQueries({
    queries: [seasonsQuery, newestLotQuery],
  });
  const navigate = useNavigate();
  const asked = useAsked('season');
  return {
    seasons,
    season:
      seasons.find(({ id }) => id === asked) ??
      seasons.find(({ id }) => id === newestLot?.seasonId) ??
      seasonOn(seasons, todayHere()),
    choose: (seasonId) => void navigate({ to: '.', search: { season: seasonId } }),
  };
}
