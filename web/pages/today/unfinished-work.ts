import { priceOn } from '../../../api/calc/books/batch-cost.ts';
import type { Quotation, Supply } from '../../../api/schemas/supply.ts';
import type { Today } from '../../../api/schemas/today.ts';
import { daysBetween } from '../prices/series.ts';

/** What is waiting for somebody to do something, as the books stand on a day. */
export type UnfinishedWork = Omit<Today, 'entered' | 'season'> & StalePrices;

export interface StalePrices {
  unpriced: Supply[];
  /** The newest quotation of a metal where that is older than a week. */
  stale: Quotation[];
}

/** A quotation older than this says little about today. */
const FRESH_DAYS = 7;

/** Prices that are missing or old; of the quotations, the last of every metal, currency and unit are given. */
export function stalePrices(
  { supplies, quotations }: { supplies: readonly Supply[]; quotations: readonly Quotation[] },
  today: string,
): StalePrices {
  const newest = new Map<string, Quotation>();
  for (const one of quotations) {
    const known = newest.get(one.metal);
    if (known === undefined || known.quotedOn < one.quotedOn) newest.set(one.metal, one);
  }
  return {
    unpriced: supplies.filter((supply) => priceOn(supply, today) === null),
    stale: [...newest.values()].filter(({ quotedOn }) => daysBetween(quotedOn, today) > FRESH_DAYS),
  };
}

/** Whether nothing waits. */
export const isNothing = ({ unpriced, stale, ...lists }: UnfinishedWork): boolean =>
  unpriced.length + stale.length === 0 && Object.values(lists).every(({ count }) => count === 0);
