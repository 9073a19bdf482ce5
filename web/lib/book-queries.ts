import { queryOptions } from '@tanstack/react-query';
import { api, send, sendAll, sendPage } from '../api.ts';
import { behind, isRecordId } from './list-page.ts';

/** The records that planning and settling work with; benches have theirs in bench-queries.ts. */
export const termsQuery = queryOptions({
  queryKey: ['terms'],
  queryFn: () => send(api.terms.$get()),
});

/** The batches of one season, newest first, a page of them. */
export const batchesOfSeasonQuery = (seasonId: string, after: string) =>
  queryOptions({
    queryKey: ['batches', 'season', seasonId, after],
    queryFn: () => sendPage(api.batches.$get({ query: { seasonId, newestFirst: 'true', ...behind(after) } })),
  });

/** The newest batches. */
export const newestBatchesQuery = queryOptions({
  queryKey: ['batches', 'newest'],
  queryFn: () => send(api.batches.$get({ query: { newestFirst: 'true', limit: '20' } })),
});

/** Batches with bars or parcels (`open`: that no final statement was issued for), newest first, a page of them. */
export const batchesToSettleQuery = (toSettle: 'made' | 'open', sought: string, after: string) =>
  queryOptions({
    queryKey: ['batches', 'to-settle', toSettle, sought, after],
    queryFn: () =>
      sendPage(
        api.batches.$get({
          query: {
            toSettle,
            newestFirst: 'true',
            limit: '25',
            ...(sought === '' ? {} : { sought }),
            ...behind(after),
          },
        }),
      ),
  });

/** The batch that a product came from; null where there is none. */
export const batchOfProductQuery = (productId: string) =>
  queryOptions({
    queryKey: ['batches', 'product', productId],
    queryFn: async () =>
      isRecordId(productId) ? ((await send(api.batches.$get({ query: { productId } })))[0] ?? null) : null,
  });

export const batchQuery = (batchId: string) =>
  queryOptions({
    queryKey: ['batches', batchId],
    queryFn: () => send(api.batches[':id'].$get({ param: { id: batchId } })),
  });

/** The statements of some products, in the order of their numbers. */
export const statementsOfProductsQuery = (productIds: readonly string[]) =>
  queryOptions({
    queryKey: ['statements', 'products', ...productIds],
    queryFn: () =>
      productIds.length === 0
        ? []
        : sendAll((after) =>
            sendPage(
              api.statements.$get({ query: { productIds: productIds.join(','), limit: '200', ...after } }),
            ),
          ),
  });

/** The issued statements of one season, newest first, a page of them. */
export const issuedOfSeasonQuery = (seasonId: string, after: string) =>
  queryOptions({
    queryKey: ['statements', 'season', seasonId, after],
    queryFn: () =>
      sendPage(
        api.statements.$get({
          query: { seasonId, status: 'issued', newestFirst: 'true', ...behind(after) },
        }),
      ),
  });

export const draftsQuery = queryOptions({
  queryKey: ['statements', 'drafts'],
  queryFn: () => sendPage(api.statements.$get({ query: { status: 'draft', newestFirst: 'true' } })),
});

/** Issued statements that are not paid in full, the oldest first. */
export const unpaidQuery = queryOptions({
  queryKey: ['statements', 'unpaid'],
  queryFn: () => sendPage(api.statements.$get({ query: { unpaid: 'true', limit: '200' } })),
});
