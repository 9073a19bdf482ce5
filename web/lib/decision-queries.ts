import { queryOptions } from '@tanstack/react-query';
import { api, send } from '../api.ts';

/** All recorded decisions, or those about one lot. */
export const decisionsQuery = (lotId?: string) =>
  queryOptions({
    queryKey: ['decisions', lotId ?? 'all'],
    queryFn: () => send(api.decisions.$get({ query: lotId === undefined ? {} : { lotId } })),
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
