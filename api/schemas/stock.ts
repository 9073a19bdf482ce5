import { z } from 'zod';
import { id, number } from './fields.ts';
import { productKinds } from './batch.ts';

export const wheres = [
  'in-stock',
  'under-way',
  'at-buyer',
  'settled',
  'worked-up-again',
  'written-off',
] as const;

const measured = z.object({ value: number(), u: number() });
const metal = {
  /** Metal in what is left, g, with its standard uncertainty; null where nothing speaks of it. */
  goldG: measured.nullable(),
  silverG: measured.nullable(),
};

export const stockLot = z.object({
  id,
  code: z.string(),
  description: z.string(),
  madeOn: z.string(),
  dryMassKg: z.string(),
  leftKg: z.string(),
  ...metal,
});
export const stockProduct = z.object({
  id,
  code: z.string(),
  kind: z.enum(productKinds),
  batchId: id,
  batchCode: z.string(),
  madeOn: z.string(),
  massKg: z.string(),
  /** As weighed, less what was worked up again and written off. */
  leftKg: z.string(),
  leftDryKg: z.string(),
  where: z.enum(wheres),
  since: z.string(),
  /** Code of the shipment or number of the statement that says so. */
  by: z.string().nullable(),
  shipmentId: id.nullable(),
  insuredFor: z.string().nullable(),
  insuredCurrency: z.string().nullable(),
  ...metal,
});
export type StockLot = z.infer<typeof stockLot>;
export type StockProduct = z.infer<typeof stockProduct>;

export const stock = z.object({
  lots: z.array(stockLot),
  products: z.array(stockProduct),
  /** Of so many of the lots the metal is said. */
  lotsWithMetal: z.int(),
  /** To ask on with, as `afterLot` and `afterProduct`; null where nothing more comes. */
  nextLots: id.nullable(),
  nextProducts: id.nullable(),
});
export type Stock = z.infer<typeof stock>;

export const shipmentWorthSchema = z.object({
  currency: z.string(),
  quotedOn: z.string().nullable(),
  value: number(),
  products: z.array(
    z.object({
      id,
      code: z.string(),
      value: number().nullable(),
      ...metal,
    }),
  ),
  findings: z.array(
    z.object({
      code: z.string(),
      level: z.enum(['note', 'warning', 'blocker']),
      path: z.string(),
      sentence: z.string(),
    }),
  ),
});
