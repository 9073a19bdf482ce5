import { z } from 'zod';
import {
  currency,
  decimal,
  element,
  id,
  isoDate,
  massKg,
  moistureFrac,
  name,
  number,
  price,
  text,
  version,
} from './fields.ts';
import { lotPart, newLotPart } from './lot-part.ts';
import { screening } from './screen-metallics.ts';
import { writeOff } from './write-off.ts';

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
/** A lot with what it is made from; without minerals of its own it has those of its parts. */
export const newLotOfParts = lotFields.extend({ parts: z.array(newLotPart).max(400).default([]) });
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
    /** Mass of the sample that was sent: what its sampling error is worked from. */
    sampleMassG: number({ above: 0, max: 10_000_000 }).nullable().default(null),
  })
  .refine((assay) => assay.unit !== 'percent' || Number(assay.value) <= 100, {
    path: ['value'],
    error: 'must be at most 100 percent',
  });
export const labAssay = z.object({
  ...newLabAssay.shape,
  id,
  /** How the result was worked where the coarse metal was screened out. */
  screenMetallics: screening.nullable(),
});
export type LabAssay = z.infer<typeof labAssay>;

const goldGrains = {
  goldFrac: number({ above: 0, max: 1 }),
  /** Null: from the fineness. */
  grainDensityGpml: number({ above: 1, max: 22.6 }).nullable().default(null),
  silverWithGold: z.boolean(),
};
/** How the gold sits in a lot: free grains of a size, or ground ore by Gy's formula. */
export const lotSampling = z.discriminatedUnion(
  'model',
  [
    z.object({
      model: z.literal('coarse-gold'),
      grainSizeMm: number({ above: 0, max: 100 }),
      grainShape: z.enum(['nugget', 'flake']),
      ...goldGrains,
    }),
    z.object({
      model: z.literal('gy'),
      topSizeMm: number({ above: 0, max: 1000 }),
      liberationSizeMm: number({ above: 0, max: 1000 }),
      shapeFactor: number({ above: 0, max: 1 }),
      liberationExponent: number({ above: 0, max: 3 }),
      ...goldGrains,
    }),
  ],
  { error: 'must be coarse gold or ground ore' },
);
export type LotSampling = z.infer<typeof lotSampling>;

/** What a lot of other people's making cost. */
export const lotPurchase = z.object({
  amount: price,
  currency,
  boughtOn: isoDate,
  supplier: text(120).default(''),
  document: text(120).default(''),
  paidOn: isoDate.nullable().default(null),
});
export type LotPurchase = z.infer<typeof lotPurchase>;

export const lotOwner = z.object({ counterpartyId: id.nullable() });

export const lot = lotFields.extend({
  id,
  version,
  /** Whose lot it is that a custom mill works up; null for the mill's own. */
  ownerCounterpartyId: id.nullable(),
  dryMassKg: z.string(),
  takenByTestSmeltsKg: z.string(),
  takenByBatchesKg: z.string(),
  takenByLotsKg: z.string(),
  writtenOffKg: z.string(),
  /** Dry mass less all that was taken and written off. */
  leftKg: z.string(),
  labAssays: z.array(labAssay),
  sampling: lotSampling.nullable(),
  /** What it was made from, and what other lots were made from it. */
  parts: z.array(lotPart),
  takenByLots: z.array(lotPart),
  writeOffs: z.array(writeOff),
  purchase: lotPurchase.nullable(),
});
export type Lot = z.infer<typeof lot>;
