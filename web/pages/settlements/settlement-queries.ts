import { keepPreviousData, queryOptions } from '@tanstack/react-query';
import { api, send } from '../../api.ts';
import type { StatementEntry } from '../../../api/schemas/statement.ts';

export const statementQuery = (statementId: string) =>
  queryOptions({
    queryKey: ['statements', statementId],
    queryFn: () => send(api.statements[':id'].$get({ param: { id: statementId } })),
  });

export const statementReportQuery = (statementId: string) =>
  queryOptions({
    queryKey: ['statements', statementId, 'report'],
    queryFn: () => send(api.statements[':id'].report.$get({ param: { id: statementId } })),
  });

export const paymentsQuery = (statementId: string) =>
  queryOptions({
    queryKey: ['statements', statementId, 'payments'],
    queryFn: () => send(api.statements[':id'].payments.$get({ param: { id: statementId } })),
  });

/** A settlement worked by the server without being kept; the last answer stays while the next is worked. */
export const previewQuery = (entry: StatementEntry | null) =>
  queryOptions({
    queryKey: ['statement-preview', entry],
    queryFn: async ({ signal }) => {
      if (entry === null) throw new Error('There is nothing to be worked out yet.');
      return send(api.statements.preview.$post({ json: entry }, { init: { signal } }));
    },
    enabled: entry !== null,
    placeholderData: keepPreviousData,
    throwOnError: false,
    retry: false,
  });
