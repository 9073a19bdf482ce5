import { z } from 'zod';
import { decimal, element, id, isoDate, massKg, moistureFrac, name, text, version } from './fields.ts';

/** Minerals that the roasting and smelting arithmetic knows, by formula. */
export const mineralNames = [
  'pyrite',
  'pyrrhotite',
  'chalcopyrite',
  'galena',
  'sphalerite',
  'arsenopyrite',
  'stibnite',
  'chalcocite',
  'magnetite',
  'hematite',
  'quartz',
] as const;

const lotMineral = z.object({ mineral: z.enum(mineralNames), massFrac: decimal({ above: 0, max: 1 }) });

const lotFields = z.object({
  seasonId: id,
  code: name(40),
  description: text(500).default(''),
  madeOn: isoDate,
  wetMassKg: massKg,
  moistureFrac,
  minerals: z
    .array(lotMineral)
    .max(20)
    .default([])
    .refine(
      (minerals) => new Set(minerals.map((one) => one.mineral)).size === minerals.length,
      'must name each mineral once',
    )
    .refine(
      (minerals) => minerals.reduce((sum, one) => sum + Number(one.massFrac), 0) <= 1 + 1e-9,
      'must not add up to more than the whole (1)',
    ),
  remarks: text(2000).default(''),
});
export const newLot = lotFields;
export const lotChange = lotFields.extend({ version });

/** Assays of a lot are by a laboratory; those by the mill itself are test smelts. */
export const newLabAssay = z
  .object({
    laboratory: name(),
    certificate: text(120).default(''),
    assayedOn: isoDate,
    method: text(120).default(''),
    element,
    unit: z.enum(['g/t', 'percent']),
    value: decimal({ min: 0, max: 1_000_000 }),
    standardUncertainty: decimal({ above: 0, max: 1_000_000 }).nullable().default(null),
  })
  .refine((assay) => assay.unit !== 'percent' || Number(assay.value) <= 100, {
    path: ['value'],
    error: 'must be at most 100 percent',
  });
export const labAssay = z.object({ ...newLabAssay.shape, id });
export type LabAssay = z.infer<typeof labAssay>;

export const lot = lotFields.extend({
  id,
  version,
  dryMassKg: z.string(),
  takenByTestSmeltsKg: z.string(),
  takenByBatchesKg: z.string(),
  leftKg: z.string(),
  labAssays: z.array(labAssay),
});
export type Lot = z.infer<typeof lot>;
