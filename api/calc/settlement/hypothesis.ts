import type { Terms } from '../terms/terms.ts';
import type { SettlementInput } from './input.ts';

/** A way in which their statement may have been worked otherwise. */
export interface Hypothesis {
  code: string;
  sentence: string;
  input: SettlementInput;
}

/** What they print, by the id of our line: money or another figure. */
export type TheirFigures = Map<string, { amount: string | null; result: string | null }>;

/** Another reading of the contract: what they do, and the terms changed by it. */
export type Reading = [code: string, sentence: string, changed: Partial<Terms>];

/** The list with one item put in place of another. */
export function replaced<T>(items: T[], index: number, item: T): T[] {
  return items.map((one, i) => (i === index ? item : one));
}
