import type { Quotation } from '../../../api/schemas/supply.ts';
import { metalName } from '../../lib/metals.ts';

/** Quotations of one metal in one currency and unit: only those can be held against each other. */
export type Series = Pick<Quotation, 'metal' | 'currency' | 'unit'>;

export const seriesKey = ({ metal, currency, unit }: Series): string => `${metal} ${currency} ${unit}`;

export const seriesName = ({ metal, currency, unit }: Series): string =>
  `${metalName(metal)}, ${currency}/${unit}`;

/** Whole days from one day to a later one. */
export function daysBetween(from: string, to: string): number {
  return Math.round((Date.parse(`${to}T00:00:00Z`) - Date.parse(`${from}T00:00:00Z`)) / 86_400_000);
}

export function ageText(quotedOn: string, today: string): string {
  const days = daysBetween(quotedOn, today);
  if (days <= 0) return 'today';
  return days === 1 ? '1 day' : `${days} days`;
}
