import { z } from 'zod';
import { decimal, id, isoDate, MOST_VERSIONS, text } from './fields.ts';

const planned = decimal({ min: 0, max: 1_000_000_000 });

export const budgetMonth = z.object({
  month: isoDate.refine((day) => day.endsWith('-01'), 'must be the first day of a month'),
  feedDryT: planned,
  concentrateDryKg: planned,
  treatedDryKg: planned,
  /** In the mill's currency. */
  fixedCosts: planned,
});

const budgetFields = z.object({
  furnaceHoursPerDay: decimal({ min: 0, max: 24 }).nullable(),
  months: z
    .array(budgetMonth)
    .max(60)
    .refine(
      (months) => new Set(months.map(({ month }) => month)).size === months.length,
      'must name each month once',
    ),
  remarks: text(2000).default(''),
  /** 0 while there is no budget yet. */
  version: z.int().min(0).max(MOST_VERSIONS),
});
export const budgetChange = budgetFields;

export const capacityMonth = z.object({
  month: isoDate,
  /** Days of the season in it. */
  days: z.int(),
  /** Furnace hours there are; null where nobody has said how many a day. */
  availableHours: z.string().nullable(),
  /** Of the batches planned or running, by the day they are planned for or were started. */
  plannedHours: z.string(),
  plannedBatches: z.array(z.string()),
  treatedDryKg: z.string(),
});
export type CapacityMonth = z.infer<typeof capacityMonth>;

/** With all months of the season, those without figures at nothing. */
export const budget = budgetFields.extend({
  seasonId: id,
  seasonName: z.string(),
  capacity: z.array(capacityMonth),
});
export type Budget = z.infer<typeof budget>;
