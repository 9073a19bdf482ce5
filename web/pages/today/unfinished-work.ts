import { priceOn } from '../../../api/calc/books/batch-cost.ts';
import type { Batch } from '../../../api/schemas/batch.ts';
import type { Lot } from '../../../api/schemas/lot.ts';
import type { StatementSummary } from '../../../api/schemas/statement.ts';
import type { Quotation, Supply } from '../../../api/schemas/supply.ts';
import { daysBetween } from '../prices/series.ts';

export interface Books {
  lots: readonly Lot[];
  batches: readonly Batch[];
  statements: readonly StatementSummary[];
  supplies: readonly Supply[];
  /** The last of every metal, currency and unit. */
  quotations: readonly Quotation[];
}

/** What is waiting for somebody to do something, as the books stand on a day. */
export interface UnfinishedWork {
  lotsLeft: Lot[];
  planned: Batch[];
  running: Batch[];
  /** Finished, and no statement has been issued for them. */
  unsettled: Batch[];
  drafts: StatementSummary[];
  /** Issued as provisional, and nothing issued since that takes their place. */
  provisional: StatementSummary[];
  unpriced: Supply[];
  /** The newest quotation of a metal where that is older than a week. */
  stale: Quotation[];
}

/** A quotation older than this says little about today. */
const FRESH_DAYS = 7;

export function unfinishedWork(books: Books, today: string): UnfinishedWork {
  const { lots, batches, statements, supplies, quotations } = books;
  const withStatus = (status: Batch['status']): Batch[] => batches.filter((one) => one.status === status);
  const issued = statements.filter(({ status }) => status === 'issued');
  const replaced = new Set(issued.map(({ supersedesNumber }) => supersedesNumber));
  const newest = new Map<string, Quotation>();
  for (const one of quotations) {
    const known = newest.get(one.metal);
    if (known === undefined || known.quotedOn < one.quotedOn) newest.set(one.metal, one);
  }
  return {
    lotsLeft: lots.filter(({ leftKg }) => Number(leftKg) > 0),
    planned: withStatus('planned'),
    running: withStatus('running'),
    unsettled: withStatus('done').filter(({ settled }) => settled === null),
    drafts: statements.filter(({ status }) => status === 'draft'),
    provisional: issued.filter(
      ({ stage, number }) =>
        (stage === 'provisional' || stage === 'second-provisional') && !replaced.has(number),
    ),
    unpriced: supplies.filter((supply) => priceOn(supply, today) === null),
    stale: [...newest.values()].filter(({ quotedOn }) => daysBetween(quotedOn, today) > FRESH_DAYS),
  };
}
