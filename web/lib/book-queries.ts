import { queryOptions } from '@tanstack/react-query';
import { api, send } from '../api.ts';

/** The records that planning and settling work with; benches have theirs in bench-queries.ts. */
export const termsQuery = queryOptions({
  queryKey: ['terms'],
  queryFn: () => send(api.terms.$get()),
});

export const batchesQuery = queryOptions({
  queryKey: ['batches'],
  queryFn: () => send(api.batches.$get({ query: {} })),
});

export const batchQuery = (batchId: string) =>
  queryOptions({
    queryKey: ['batches', batchId],
    queryFn: () => send(api.batches[':id'].$get({ param: { id: batchId } })),
  });

export const statementsQuery = queryOptions({
  queryKey: ['statements'],
  queryFn: () => send(api.statements.$get({ query: {} })),
});
