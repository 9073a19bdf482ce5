import { z } from 'zod';
import { decimal, id, isoDate, name, number, text } from './fields.ts';

/** A sample that was screened, its coarse part assayed whole and its fine part by samples. */
const screened = {
  screenMm: number({ above: 0, max: 100 }).nullable().default(null),
  coarseMassG: number({ min: 0, max: 10_000_000 }),
  coarseMetalMg: number({ min: 0, max: 10_000_000 }),
  coarseMetalStandardUncertaintyMg: number({ min: 0, max: 10_000_000 }).nullable().default(null),
  fineMassG: number({ above: 0, max: 10_000_000 }),
  fineAssays: z
    .array(
      z.object({
        gradeGpt: number({ min: 0, max: 1_000_000 }),
        standardUncertaintyGpt: number({ above: 0, max: 1_000_000 }).nullable().default(null),
      }),
    )
    .min(1, 'must have one assay of the fine part at least')
    .max(20),
};

/** The working as it is kept, with the balance as it stood then. */
export const screening = z.object({
  ...screened,
  balance: z.object({
    name: z.string(),
    readabilityG: decimal({ above: 0 }),
    repeatabilityG: decimal({ min: 0 }),
  }),
});
export type Screening = z.infer<typeof screening>;

export const newScreenMetallics = z
  .object({
    laboratory: name(),
    certificate: text(120).default(''),
    assayedOn: isoDate,
    element: z.enum(['Au', 'Ag'], { error: 'must be gold or silver' }),
    /** Weighed the two parts. */
    balanceId: id,
    ...screened,
  })
  .refine(({ coarseMetalMg, coarseMassG }) => coarseMetalMg <= 1000 * coarseMassG, {
    path: ['coarseMetalMg'],
    error: 'must not be more than the coarse part weighs; the metal is in milligrams',
  });
