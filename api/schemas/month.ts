import { z } from 'zod';

/** A month as addresses name it: `2026-07`. */
export const monthParam = z.object({
  month: z.string().regex(/^(19|2[01])\d{2}-(0[1-9]|1[0-2])$/, 'must be a month of the kind 2026-07'),
});

const listedMonth = z.object({
  month: z.string(),
  /** Null while it is open. */
  closed: z.object({ on: z.string(), by: z.string() }).nullable(),
  /** Why it cannot be closed now, as a sentence goes on; null where it can be, or is. */
  cannotCloseBecause: z.string().nullable(),
  entries: z.int(),
  corrections: z.int(),
  batches: z.string(),
  feedDryT: z.string(),
  goldMadeG: z.string(),
  settled: z.string(),
  costs: z.string(),
  netValue: z.string(),
});
export type ListedMonth = z.infer<typeof listedMonth>;

export const months = z.object({
  currency: z.string(),
  /** Years in which anything is recorded, newest first. */
  years: z.array(z.int()),
  year: z.int(),
  /** Of that year, newest first. */
  months: z.array(listedMonth),
});
export type Months = z.infer<typeof months>;
