import { z } from 'zod';
import { id, isoDate, massKg } from './fields.ts';

export const partSources = ['day', 'lot', 'product'] as const;

/** A dry mass taken out of a day's concentrate, another lot or a product, into a lot. */
export const newLotPart = z.object({
  source: z.enum(partSources),
  sourceId: id,
  dryMassKg: massKg,
  takenOn: isoDate,
});
export type NewLotPart = z.infer<typeof newLotPart>;

export const lotPart = newLotPart.extend({
  id,
  /** Code of the lot or product, date of the day. */
  sourceCode: z.string(),
  lotId: id,
  lotCode: z.string(),
});
export type LotPart = z.infer<typeof lotPart>;
