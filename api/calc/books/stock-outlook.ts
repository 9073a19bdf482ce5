import { Dec, type DecimalNumber } from '../money.ts';

/** A supply as it stands today, decimal texts. */
export interface SupplyAtHand {
  supplyId: string;
  /** Null where it was never bought or counted, so that nobody knows. */
  quantity: string | null;
  /** Used since the season began, less what came back. */
  usedInSeason: string;
}

/** What a planned batch still takes of a supply, and what of it comes back. Decimal texts. */
export interface PlannedNeed {
  batchCode: string;
  /** The day for which the batch is planned. */
  on: string;
  supplyId: string;
  quantity: string;
  backQuantity: string;
}

export interface Shortage {
  /** What is missing in all, beyond what is at hand and what comes back in time. Decimal text. */
  quantity: string;
  /** The day of the first batch that goes short; today where that has passed. */
  by: string;
  /** The batches that go short, in their order. */
  batchCodes: string[];
}

export interface SupplyOutlook {
  supplyId: string;
  /** Per day of the season so far, to three decimals; null where nothing was used or no season runs. */
  usedPerDay: string | null;
  /** Whole days that the stock lasts at that rate; null without a rate or without a known stock. */
  daysLeft: number | null;
  /** What all planned batches take, before anything comes back. */
  plannedQuantity: string;
  /** Null where it suffices, or where the stock is not known. */
  shortage: Shortage | null;
}

/**
 * How long each supply lasts, and what the planned batches will lack.
 *
 * Days left = quantity ÷ (used in the season ÷ days of the season so far), whole days. Short: the batches take what
 * they need in the order of their days, each giving back its lead afterwards; the largest amount below zero is what
 * has to be bought, by the day on which zero is first passed. Estimates for buying, never booked.
 * Source: common practice.
 */
export function stockOutlook({
  supplies,
  needs,
  seasonDays,
  today,
}: {
  supplies: readonly SupplyAtHand[];
  needs: readonly PlannedNeed[];
  /** Days from the first of the season to today, both counted; null where no season runs. */
  seasonDays: number | null;
  today: string;
}): SupplyOutlook[] {
  return supplies.map(({ supplyId, quantity, usedInSeason }) => {
    const own = needs
      .filter((need) => need.supplyId === supplyId)
      .toSorted((a, b) => a.on.localeCompare(b.on) || a.batchCode.localeCompare(b.batchCode));
    const used = new Dec(usedInSeason);
    const rate = seasonDays === null || !used.greaterThan(0) ? null : used.div(seasonDays);
    const atHand = quantity === null ? null : Dec.max(quantity, 0);
    return {
      supplyId,
      usedPerDay: rate && rate.toDecimalPlaces(3).toFixed(),
      daysLeft: rate && atHand && atHand.div(rate).floor().toNumber(),
      plannedQuantity: own
        .reduce<DecimalNumber>((sum, need) => sum.plus(need.quantity), new Dec(0))
        .toFixed(),
      shortage: atHand && shortageOf(atHand, own, today),
    };
  });
}

function shortageOf(atHand: DecimalNumber, needs: readonly PlannedNeed[], today: string): Shortage | null {
  let left = atHand;
  let lowest = new Dec(0);
  const short: PlannedNeed[] = [];
  for (const need of needs) {
    left = left.minus(need.quantity);
    if (left.lessThan(0)) short.push(need);
    if (left.lessThan(lowest)) lowest = left;
    left = left.plus(need.backQuantity);
  }
  const [first] = short;
  if (first === undefined) return null;
  return {
    quantity: lowest.negated().toFixed(),
    by: first.on < today ? today : first.on,
    batchCodes: short.map(({ batchCode }) => batchCode),
  };
}
