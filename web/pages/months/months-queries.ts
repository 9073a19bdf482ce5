import { queryOptions } from '@tanstack/react-query';
import { api, send } from '../../api.ts';
import { askAgainAfterMs } from '../../lib/ask-again.ts';

/** The months of a year, the newest recorded one where none is asked for. */
export const monthsQuery = (year: number | undefined) =>
  queryOptions({
    queryKey: ['months', year ?? 'newest'],
    queryFn: () => send(api.months.$get({ query: year === undefined ? {} : { year: String(year) } })),
  });

export const monthReportQuery = (month: string) =>
  queryOptions({
    queryKey: ['months', month, 'report'],
    queryFn: () => send(api.months[':month'].report.$get({ param: { month } })),
    refetchInterval: ({ state }) => askAgainAfterMs(state.data, state.dataUpdateCount),
  });
