import { z } from 'zod';
import { decimal, id, isoDate, name, number, text, version } from './fields.ts';

/** A mass as a balance shows it. */
const shownMassG = number({ min: 0, max: 1_000_000 });
const remarks = text(2000).default('');

/** One thing weighed again and again, taken off in between. */
const repeatWeighing = z.object({
  kind: z.literal('repeat-weighing'),
  checkedOn: isoDate,
  readings: z
    .array(z.object({ nominalMassG: z.null().default(null), readingG: shownMassG }))
    .min(2, 'must have two readings at least: one says nothing of how they repeat')
    .max(100),
  remarks,
});

/** Check weights of known mass. */
const checkWeights = z.object({
  kind: z.literal('check-weights'),
  checkedOn: isoDate,
  readings: z
    .array(z.object({ nominalMassG: number({ above: 0, max: 1_000_000 }), readingG: shownMassG }))
    .min(1, 'must have one check weight at least')
    .max(100),
  remarks,
});

export const newBalanceCheck = z.discriminatedUnion('kind', [repeatWeighing, checkWeights], {
  error: 'must be a repeat weighing or a check with check weights',
});
export const balanceCheck = z.discriminatedUnion('kind', [
  repeatWeighing.extend({ id }),
  checkWeights.extend({ id }),
]);
export type BalanceCheck = z.infer<typeof balanceCheck>;

const balanceFields = z.object({
  name: name(),
  readabilityG: decimal({ above: 0, max: 1000 }),
  repeatabilityG: decimal({ min: 0, max: 1000 }),
});
/** Which repeatability counts; left out it stays as it is, and of a new balance it is the stated one. */
const repeatabilityFrom = z.enum(['stated', 'checks']);
export const newBalance = balanceFields.extend({ repeatabilityFrom: repeatabilityFrom.optional() });
export const balanceChange = newBalance.extend({ version });
/** Checks oldest first. */
export const balance = balanceFields.extend({
  id,
  version,
  repeatabilityFrom,
  checks: z.array(balanceCheck),
});
/** As it is listed, with how many test smelts were weighed on it. */
export const listedBalance = balance.extend({ testSmelts: z.int() });
export type BalanceRecord = z.infer<typeof balance>;
