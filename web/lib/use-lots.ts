import { useMemo } from 'react';
import { useSuspenseQueries, useSuspenseQuery } from '@tanstack/react-query';
import type { Lot } from '../../api/schemas/lot.ts';
import { namedLotQuery, newestLotsQuery } from './bench-queries.ts';

export interface LotsAtHand {
  /** Oldest first. */
  lots: Lot[];
  /** Whether there are more, to be found by typing. */
  more: boolean;
}

const together = (found: { data: Lot | null }[]): Lot[] => found.flatMap(({ data }) => data ?? []);

/**
 * Lots to choose from: the newest, and those that are named already, by id or code. The same as long as the records
 * are: calculations hang on them.
 */
export function useLots(named: readonly string[] = []): LotsAtHand {
  const { data: newest } = useSuspenseQuery(newestLotsQuery);
  const others = [...new Set(named)].filter(
    (name) => name !== '' && newest.rows.every(({ id, code }) => id !== name && code !== name),
  );
  const found = useSuspenseQueries({
    queries: newest.next === null ? [] : others.map(namedLotQuery),
    combine: together,
  });
  return useMemo(
    () => ({
      lots: [...newest.rows.toReversed(), ...found].toSorted((a, b) =>
        a.madeOn < b.madeOn ? -1 : a.madeOn > b.madeOn ? 1 : 0,
      ),
      more: newest.next !== null,
    }),
    [newest, found],
  );
}

/** The lot to begin with where none is named: the first of a few; of many the newest, which the work is about. */
export const usualLot = ({ lots, more }: LotsAtHand): Lot | undefined => (more ? lots.at(-1) : lots[0]);
