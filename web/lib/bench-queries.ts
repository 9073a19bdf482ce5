import { queryOptions, useQueryClient } from '@tanstack/react-query';
import { api, send, sendAll, sendPage } from '../api.ts';
import { behind, isRecordId } from './list-page.ts';

/** The lots of one season, newest first, a page of them. */
export const lotsOfSeasonQuery = (seasonId: string, after: string) =>
  queryOptions({
    queryKey: ['lots', 'season', seasonId, after],
    queryFn: () => sendPage(api.lots.$get({ query: { seasonId, newestFirst: 'true', ...behind(after) } })),
  });

/** The lots of one season that were tested, newest first, a page of them. */
export const testedLotsQuery = (seasonId: string, after: string) =>
  queryOptions({
    queryKey: ['lots', 'tested', seasonId, after],
    queryFn: () =>
      sendPage(
        api.lots.$get({
          query: { seasonId, tested: 'true', newestFirst: 'true', limit: '20', ...behind(after) },
        }),
      ),
  });

/** The newest lot alone: work goes on in its season. Null where there is none. */
export const newestLotQuery = queryOptions({
  queryKey: ['lots', 'newest one'],
  queryFn: async () => (await send(api.lots.$get({ query: { newestFirst: 'true', limit: '1' } })))[0] ?? null,
});

/** The newest tested lots, as many as speak of how well the mill's tests repeat: as many as a lot's grade rests on. */
export const newestTestedLotsQuery = queryOptions({
  queryKey: ['lots', 'newest tested'],
  queryFn: () => send(api.lots.$get({ query: { tested: 'true', newestFirst: 'true', limit: '40' } })),
});

/** So many of the newest records stand in a list to choose from; older ones are found by typing. */
export const CHOICES = 50;

/** The newest lots, to choose from. */
export const newestLotsQuery = queryOptions({
  queryKey: ['lots', 'newest'],
  queryFn: () => sendPage(api.lots.$get({ query: { newestFirst: 'true', limit: String(CHOICES) } })),
});

/** Lots whose code or description holds what was typed, the newest first. */
export const soughtLotsQuery = (sought: string) =>
  queryOptions({
    queryKey: ['lots', 'sought', sought],
    queryFn: () =>
      sendPage(api.lots.$get({ query: { sought, newestFirst: 'true', limit: String(CHOICES) } })),
  });

/** The lot of an id, or of a code; null where there is none. */
export const namedLotQuery = (name: string) =>
  queryOptions({
    queryKey: ['lots', 'named', name],
    queryFn: async () => {
      const found = await send(
        api.lots.$get({ query: isRecordId(name) ? { ids: name } : { sought: name, limit: '200' } }),
      );
      return found.find(({ id, code }) => id === name || code === name) ?? null;
    },
  });

export const lotQuery = (lotId: string) =>
  queryOptions({
    queryKey: ['lots', lotId],
    queryFn: () => send(api.lots[':id'].$get({ param: { id: lotId } })),
  });

/** The trials of some lots with their test smelts. */
export const trialsOfLotsQuery = (lotIds: readonly string[]) =>
  queryOptions({
    queryKey: ['trials', 'lots', ...lotIds],
    queryFn: () =>
      lotIds.length === 0
        ? []
        : sendAll((after) =>
            sendPage(api.trials.$get({ query: { lotIds: lotIds.join(','), limit: '200', ...after } })),
          ),
  });

/** One trial with its test smelts; null where it is not there. */
export const trialQuery = (trialId: string) =>
  queryOptions({
    queryKey: ['trials', trialId],
    queryFn: async () =>
      isRecordId(trialId) ? ((await send(api.trials.$get({ query: { ids: trialId } })))[0] ?? null) : null,
  });

/** The trials of the newest lots that have any. */
export const newestTrialsQuery = queryOptions({
  queryKey: ['trials', 'newest'],
  queryFn: () => send(api.trials.$get({ query: { newestFirst: 'true', limit: '10' } })),
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
