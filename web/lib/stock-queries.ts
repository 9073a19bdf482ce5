import { queryOptions } from '@tanstack/react-query';
import { api, send } from '../api.ts';

/** What is in stock of every supply today, and what the planned batches will lack. */
export const stockQuery = queryOptions({
  queryKey: ['supply-stock'],
  queryFn: () => send(api['supply-stock'].$get({ query: {} })),
});

/** One supply's stock as a ledger. */
export const supplyStockQuery = (supplyId: string) =>
  queryOptions({
    queryKey: ['supply-stock', supplyId],
    queryFn: () => send(api['supply-stock'][':id'].$get({ param: { id: supplyId }, query: {} })),
  });

/** The purchases of one supply, newest first. */
export const purchasesQuery = (supplyId: string) =>
  queryOptions({
    queryKey: ['supply-purchases', supplyId],
    queryFn: () => send(api['supply-purchases'].$get({ query: { supplyId } })),
  });

/** The counts of one supply, newest first. */
export const countsQuery = (supplyId: string) =>
  queryOptions({
    queryKey: ['supply-counts', supplyId],
    queryFn: () => send(api['supply-counts'].$get({ query: { supplyId } })),
  });
