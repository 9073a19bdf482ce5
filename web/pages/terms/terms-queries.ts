import { queryOptions } from '@tanstack/react-query';
import { api, send } from '../../api.ts';

export const counterpartiesQuery = queryOptions({
  queryKey: ['counterparties'],
  queryFn: () => send(api.counterparties.$get()),
});

export const termsRecordQuery = (termsId: string) =>
  queryOptions({
    queryKey: ['terms', termsId],
    queryFn: () => send(api.terms[':id'].$get({ param: { id: termsId } })),
  });

/** The last quotation of each metal, currency and unit. */
export const latestQuotationsQuery = queryOptions({
  queryKey: ['quotations', 'latest'],
  queryFn: () => send(api.quotations.latest.$get({ query: {} })),
});
