import { queryOptions, useQueryClient } from '@tanstack/react-query';
import { api, send } from '../api.ts';

/** The records that a furnace bench works with; other pages may ask for the same under the same keys. */
export const lotsQuery = queryOptions({
  queryKey: ['lots'],
  queryFn: () => send(api.lots.$get({ query: {} })),
});

export const lotQuery = (lotId: string) =>
  queryOptions({
    queryKey: ['lots', lotId],
    queryFn: () => send(api.lots[':id'].$get({ param: { id: lotId } })),
  });

/** The trials of every lot with their test smelts. */
export const trialsQuery = queryOptions({
  queryKey: ['trials'],
  queryFn: () => send(api.trials.$get({ query: {} })),
});

export const testSmeltQuery = (smeltId: string) =>
  queryOptions({
    queryKey: ['test-smelts', smeltId],
    queryFn: () => send(api['test-smelts'][':id'].$get({ param: { id: smeltId } })),
  });

export const suppliesQuery = queryOptions({
  queryKey: ['supplies'],
  queryFn: () => send(api.supplies.$get()),
});

export const balancesQuery = queryOptions({
  queryKey: ['balances'],
  queryFn: () => send(api.balances.$get()),
});

/** How losses in cupelling are corrected for, and the proofs. */
export const cupellationQuery = queryOptions({
  queryKey: ['cupellation'],
  queryFn: () => send(api.cupellation.$get()),
});

export const treatmentsQuery = queryOptions({
  queryKey: ['treatments'],
  queryFn: () => send(api.treatments.$get()),
});

export const seasonsQuery = queryOptions({
  queryKey: ['seasons'],
  queryFn: () => send(api.seasons.$get()),
});

/** All that a lot's evidence is worked from, as the books stand today. */
export const lotFactsQuery = (lotId: string) =>
  queryOptions({
    queryKey: ['decision-facts', lotId, ''],
    queryFn: () => send(api.decisions.facts.$get({ query: { lotId } })),
  });

/**
 * To call after anything was written: a test smelt changes its lot's mass and
 * evidence, and what is decided from them. What is shown is asked for again;
 * what is not shown is forgotten, so that no form starts from older records.
 */
export function useBooksChanged(): () => Promise<void> {
  const client = useQueryClient();
  return () => {
    client.removeQueries({ type: 'inactive' });
    return client.invalidateQueries();
  };
}
