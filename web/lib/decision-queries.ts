import { queryOptions } from '@tanstack/react-query';
import { api, send, sendPage } from '../api.ts';
import { behind } from './list-page.ts';

/** The recorded decisions about one lot, in the order in which they were taken. */
export const decisionsOfLotQuery = (lotId: string) =>
  queryOptions({
    queryKey: ['decisions', 'lot', lotId],
    queryFn: () => send(api.decisions.$get({ query: { lotId, limit: '100' } })),
  });

/** The recorded decisions about lots of one season, newest first, a page of them. */
export const decisionsOfSeasonQuery = (seasonId: string, after: string) =>
  queryOptions({
    queryKey: ['decisions', 'season', seasonId, after],
    queryFn: () =>
      sendPage(api.decisions.$get({ query: { seasonId, newestFirst: 'true', ...behind(after) } })),
  });

export const decisionQuery = (decisionId: string) =>
  queryOptions({
    queryKey: ['decisions', 'one', decisionId],
    queryFn: () => send(api.decisions[':id'].$get({ param: { id: decisionId } })),
  });

export const decisionReportQuery = (decisionId: string) =>
  queryOptions({
    queryKey: ['decisions', 'report', decisionId],
    queryFn: () => send(api.decisions[':id'].report.$get({ param: { id: decisionId } })),
  });
