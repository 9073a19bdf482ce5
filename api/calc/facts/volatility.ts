import type { QuotationFacts } from './records.ts';

/** Quotations in a year of business days, common practice. */
const QUOTATIONS_A_YEAR = 252;

/** Fewer than this and the spread of a short run of days would say more than it knows. */
const FEWEST_QUOTATIONS = 30;

/**
 * Standard deviation of the yearly change of ln price, from daily quotations oldest first:
 * s of ln(p[i+1]/p[i]) × √252. Null with fewer than 30 quotations. Common practice.
 */
export function annualVolatilityFrac(history: readonly QuotationFacts[]): number | null {
  if (history.length < FEWEST_QUOTATIONS) return null;
  const changes = history.slice(1).map((one, i) => Math.log(Number(one.price) / Number(history[i]!.price)));
  const mean = changes.reduce((sum, change) => sum + change, 0) / changes.length;
  const squares = changes.reduce((sum, change) => sum + (change - mean) ** 2, 0);
  return Math.sqrt((squares / (changes.length - 1)) * QUOTATIONS_A_YEAR);
}
