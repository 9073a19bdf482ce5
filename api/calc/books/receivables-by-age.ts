import { daysBetween } from '../calendar.ts';
import { Dec, sumOf } from '../money.ts';

/** What a buyer owes on a statement, or the mill where it is below zero. */
export interface OpenItem {
  document: string;
  counterparty: string;
  /** Null where the terms name no day. */
  dueOn: string | null;
  /** Decimal text in `currency`. */
  open: string;
  currency: string;
}

export const AGES = [
  'not yet due',
  '1 to 30 days',
  '31 to 60 days',
  '61 to 90 days',
  'over 90 days',
] as const;
export type Age = (typeof AGES)[number];

export interface AgedItem extends OpenItem {
  daysOverdue: number;
  age: Age;
}

/**
 * Receivables by the days that they are overdue on a day: what is due that day is not overdue yet, and what has no
 * due day counts as not yet due. Items that are paid to nothing are left out.
 * Source: common practice (ageing of receivables in steps of thirty days).
 */
export function receivablesByAge(items: readonly OpenItem[], on: string): AgedItem[] {
  return items
    .filter(({ open }) => !new Dec(open).isZero())
    .map((item) => {
      const daysOverdue = item.dueOn === null ? 0 : Math.max(0, daysBetween(item.dueOn, on));
      const age = daysOverdue === 0 ? 0 : Math.min(4, Math.ceil(daysOverdue / 30));
      return { ...item, daysOverdue, age: AGES[age] ?? 'over 90 days' };
    });
}

/** Sum of every age in one currency, in the order of the ages. */
export function totalsByAge(items: readonly AgedItem[], currency: string): { age: Age; amount: string }[] {
  return AGES.map((age) => ({
    age,
    amount: sumOf(
      items.filter((item) => item.age === age && item.currency === currency).map(({ open }) => open),
    ).toFixed(2),
  }));
}
