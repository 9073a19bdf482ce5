import { Dec, type DecimalNumber } from '../money.ts';

/** Where an entry comes from, so that it can be looked up and its changes traced. */
export interface EntryRef {
  /** As the audit trail names the table. */
  table:
    | 'production_day'
    | 'lot'
    | 'batch'
    | 'product'
    | 'shipment'
    | 'statement'
    | 'statement_payment'
    | 'supply_purchase'
    | 'supply_count'
    | 'expense'
    | 'write_off';
  id: string;
}

/** Sums by name, decimal texts. What each is in is told by its name: `…Kg`, `…T`, `…G`, `…Ozt`, `…Hours`, or money. */
export type Figures = Record<string, string>;

/**
 * One thing that happened, with the figures that it adds to its month. Only what was weighed, assayed of itself, or
 * booked is in it: what is inferred of a lot changes with every test, and is never booked.
 */
export interface BookEntry {
  /** Names the record and what of it, the same at every making: `day:<id>`, `batch-cost:<id>:<supplyId>`. */
  key: string;
  /** The day that it counts on. */
  on: string;
  /** What it is, in plain words that name the record. */
  label: string;
  ref: EntryRef;
  figures: Figures;
}

/** Exact sums of figures, by name. */
export function sumFigures(all: Iterable<Figures>): Figures {
  const sums = new Map<string, DecimalNumber>();
  for (const figures of all)
    for (const [name, value] of Object.entries(figures))
      sums.set(name, (sums.get(name) ?? new Dec(0)).plus(value));
  return Object.fromEntries([...sums].map(([name, sum]) => [name, sum.toFixed()]));
}

/** `a` less `b` by name; what comes to nothing is left out. */
export function figuresLess(a: Figures, b: Figures): Figures {
  const names = new Set([...Object.keys(a), ...Object.keys(b)]);
  return Object.fromEntries(
    [...names].toSorted().flatMap((name): [string, string][] => {
      const difference = new Dec(a[name] ?? 0).minus(b[name] ?? 0);
      return difference.isZero() ? [] : [[name, difference.toFixed()]];
    }),
  );
}

/** Sum of one figure, or of all whose names begin with a prefix that ends in a slash; '0' where there is none. */
export function figureOf(figures: Figures, name: string): DecimalNumber {
  if (!name.endsWith('/')) return new Dec(figures[name] ?? 0);
  return Object.entries(figures).reduce(
    (sum, [one, value]) => (one.startsWith(name) ? sum.plus(value) : sum),
    new Dec(0),
  );
}

/** The month of a day: `2026-07`. */
export function monthName(day: string): string {
  return day.slice(0, 7);
}
