import { queryOptions } from '@tanstack/react-query';
import { api, send, sendPage } from '../api.ts';
import { behind } from './list-page.ts';

/** The days of the daily log from one day to another, oldest first; at most a month. */
export const daysQuery = (from: string, to: string) =>
  queryOptions({
    queryKey: ['days', 'span', from, to],
    queryFn: () => send(api.days.$get({ query: { from, to } })),
  });

/** The newest days of the log up to a day, the newest first; '' for all. */
export const daysUpToQuery = (day: string) =>
  queryOptions({
    queryKey: ['days', 'up-to', day],
    queryFn: () =>
      send(
        api.days.$get({ query: { newestFirst: 'true', limit: '15', ...(day === '' ? {} : { to: day }) } }),
      ),
  });

export const dayQuery = (dayId: string) =>
  queryOptions({
    queryKey: ['days', dayId],
    queryFn: () => send(api.days[':id'].$get({ param: { id: dayId } })),
  });

/** Days with concentrate that no lot was made from yet, the newest first. */
export const concentrateQuery = queryOptions({
  queryKey: ['days', 'with-concentrate'],
  queryFn: () => send(api.days['with-concentrate'].$get({ query: { newestFirst: 'true' } })),
});

/** Lots with something left, the newest first; of those whose code or description holds what is sought. */
export const lotsLeftQuery = (sought: string) =>
  queryOptions({
    queryKey: ['lots', 'left', sought],
    queryFn: () =>
      sendPage(
        api.lots.$get({ query: { left: 'true', newestFirst: 'true', ...(sought === '' ? {} : { sought }) } }),
      ),
  });

/** What is in stock or with a buyer, without what it holds: to choose from. */
export const inStockQuery = queryOptions({
  queryKey: ['stock', 'to choose from'],
  queryFn: () => send(api.stock.$get({ query: { metal: 'false', limit: '200' } })),
});

/** Lots and products: what is where. */
export const stockQuery = (asked: { seasonId?: string; afterLot?: string; afterProduct?: string }) =>
  queryOptions({
    queryKey: ['stock', asked],
    queryFn: () =>
      send(api.stock.$get({ query: { ...asked, all: asked.seasonId === undefined ? 'false' : 'true' } })),
  });

export const writeOffsQuery = (after: string) =>
  queryOptions({
    queryKey: ['write-offs', after],
    queryFn: () => sendPage(api['write-offs'].$get({ query: { newestFirst: 'true', ...behind(after) } })),
  });

/** Shipments, newest first, a page of them. */
export const shipmentsQuery = (after: string) =>
  queryOptions({
    queryKey: ['shipments', 'page', after],
    queryFn: () => sendPage(api.shipments.$get({ query: { newestFirst: 'true', ...behind(after) } })),
  });

/** The shipment that a product went out with; null where there is none. */
export const shipmentOfProductQuery = (productId: string) =>
  queryOptions({
    queryKey: ['shipments', 'product', productId],
    queryFn: async () => (await send(api.shipments.$get({ query: { productId } })))[0] ?? null,
  });

export const shipmentQuery = (shipmentId: string) =>
  queryOptions({
    queryKey: ['shipments', shipmentId],
    queryFn: () => send(api.shipments[':id'].$get({ param: { id: shipmentId } })),
  });

export const worthQuery = (shipmentId: string) =>
  queryOptions({
    queryKey: ['shipments', shipmentId, 'worth'],
    queryFn: () => send(api.shipments[':id'].worth.$get({ param: { id: shipmentId } })),
  });

export const lineageQuery = (of: string) =>
  queryOptions({
    queryKey: ['lineage', of],
    queryFn: () => send(api.lineage.$get({ query: { of } })),
  });
