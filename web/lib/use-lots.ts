import { useSuspenseQueries, useSuspenseQuery } from '@tanstack/react-query';
import type { Lot } from '../../api/schemas/lot.ts';
import { namedLotQuery, newestLotsQuery } from './bench-queries.ts';

export interface LotsAtHand {
  /** Oldest first. */
  lots: Lot[];
  /** Whether there are more, to be found by typing. */
  more: boolean;
}

/** Lots to choose from: the newest, and those that are named already, by id or code. */
export function useLots(named: readonly string[] = []): LotsAtHand {
  const { data: newest } = useSuspenseQuery(newestLotsQuery);
  const others = [...new Set(named)].filter(
    (name) => name !== '' && newest.rows.every(({ id, code }) => id !== name && code !== name),
  );
  const found = useSuspenseQueries({ queries: newest.next === null ? [] : others.map(namedLotQuery) });
  const lots = [...newest.rows.toReversed(), ...found.flatMap(({ data }) => data ?? [])];
  return {
    lots: lots.toSorted((a, b) => (a.madeOn < b.madeOn ? -1 : a.madeOn > b.madeOn ? 1 : 0)),
    more: newest.next !== null,
  };
}

/** The lot to begin with where none is named: the first of a few; of many the newest, which the work is about. */
export const usualLot = ({ lots, more }: LotsAtHand): Lot | undefined => (more ? lots.at(-1) : lots[0]);
