import { z } from 'zod';
import { decimal, id, isoDate, moistureFrac, name, text, version } from './fields.ts';
import { feedUnits } from './mill.ts';

const gradeGpt = decimal({ min: 0, max: 1_000_000 }).nullable().default(null);

const usedSupply = z.object({ supplyId: id, quantity: decimal({ above: 0, max: 10_000_000 }) });
/** Hours of one person, paid at a wage of the price list. */
const dayLabour = z.object({ person: name(), supplyId: id, hours: decimal({ above: 0, max: 24 }) });

/** What a day at the mill was: everything but the day may still be missing. */
const dayFields = z.object({
  day: isoDate,
  feedQuantity: decimal({ min: 0, max: 1_000_000 }).nullable().default(null),
  feedUnit: z.enum(feedUnits),
  /** What one of the unit weighs as it comes, t. */
  feedTonnesPerUnit: decimal({ above: 0, max: 1000 }),
  feedMoistureFrac: moistureFrac,
  feedGoldGpt: gradeGpt,
  feedSilverGpt: gradeGpt,
  tailingsGoldGpt: gradeGpt,
  tailingsSilverGpt: gradeGpt,
  concentrateWetKg: decimal({ min: 0, max: 10_000_000 }).nullable().default(null),
  concentrateMoistureFrac: moistureFrac.nullable().default(null),
  hoursRun: decimal({ min: 0, max: 24 }).nullable().default(null),
  supplies: z
    .array(usedSupply)
    .max(60)
    .default([])
    .refine(
      (supplies) => new Set(supplies.map((one) => one.supplyId)).size === supplies.length,
      'must name each supply once',
    ),
  labour: z.array(dayLabour).max(60).default([]),
  remarks: text(2000).default(''),
});

type Concentrate = { concentrateWetKg: string | null; concentrateMoistureFrac: string | null };
const moistureKnown = (day: Concentrate) =>
  day.concentrateWetKg === null || day.concentrateMoistureFrac !== null;
const withMoisture = {
  path: ['concentrateMoistureFrac'],
  error: 'must be given where concentrate was weighed',
};

export const newProductionDay = dayFields.refine(moistureKnown, withMoisture);
export const productionDayChange = dayFields.extend({ version }).refine(moistureKnown, withMoisture);
export const productionDay = dayFields.extend({
  id,
  seasonId: id,
  version,
  /** Null where no feed, or no concentrate, was entered. */
  feedDryT: z.string().nullable(),
  concentrateDryKg: z.string().nullable(),
  /** Dry concentrate that lots were made from, and what of it is left with the day. */
  takenKg: z.string(),
  leftKg: z.string(),
});
export type ProductionDay = z.infer<typeof productionDay>;
export type NewProductionDay = z.output<typeof newProductionDay>;
