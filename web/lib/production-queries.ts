import { queryOptions } from '@tanstack/react-query';
import { api, send } from '../api.ts';

/** The daily log of one season. */
export const daysQuery = (seasonId: string) =>
  queryOptions({
    queryKey: ['days', 'season', seasonId],
    queryFn: () => send(api.days.$get({ query: { seasonId } })),
  });

export const dayQuery = (dayId: string) =>
  queryOptions({
    queryKey: ['days', dayId],
    queryFn: () => send(api.days[':id'].$get({ param: { id: dayId } })),
  });

/** Days with concentrate that no lot was made from yet. */
export const concentrateQuery = queryOptions({
  queryKey: ['days', 'with-concentrate'],
  queryFn: () => send(api.days['with-concentrate'].$get()),
});

/** Lots and products: what is where. */
export const stockQuery = (all: boolean) =>
  queryOptions({
    queryKey: ['stock', all],
    queryFn: () => send(api.stock.$get({ query: { all: all ? 'true' : 'false' } })),
  });

export const shipmentsQuery = queryOptions({
  queryKey: ['shipments'],
  queryFn: () => send(api.shipments.$get()),
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
