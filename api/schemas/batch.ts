import { z } from 'zod';
import { decimal, id, isoDate, massKg, name, number, text, version } from './fields.ts';
import { assumptions } from './decision.ts';

export const newBatch = z.object({
  code: name(40),
  lotId: id,
  /** Null: the concentrate is sold as it is. */
  treatmentId: id.nullable(),
  termsId: id,
  /** The recorded decision that the batch carries out. */
  decisionId: id.nullable().default(null),
  plannedOn: isoDate,
  dryMassKg: massKg,
  assumptions,
  remarks: text(2000).default(''),
});

/** A planned batch planned anew: its forecast is frozen again, and the earlier one is kept as superseded. */
export const batchPlan = z.object({
  treatmentId: id.nullable(),
  termsId: id,
  plannedOn: isoDate,
  dryMassKg: massKg,
  /** Left out: those of the earlier plan. */
  assumptions: assumptions.optional(),
  version,
});

/** What came of a batch: everything may still be missing, and is then said to be missing. */
const batchActuals = z.object({
  status: z.enum(['planned', 'running', 'done', 'cancelled']),
  startedOn: isoDate.nullable(),
  finishedOn: isoDate.nullable(),
  furnaceHours: decimal({ min: 0, max: 100_000 }).nullable(),
  labourHours: decimal({ min: 0, max: 100_000 }).nullable(),
  leadInKg: decimal({ min: 0, max: 1_000_000 }).nullable(),
  leadBackKg: decimal({ min: 0, max: 1_000_000 }).nullable(),
  consumption: z
    .array(z.object({ supplyId: id, quantity: decimal({ above: 0, max: 10_000_000 }) }))
    .max(60)
    .refine(
      (consumption) => new Set(consumption.map((one) => one.supplyId)).size === consumption.length,
      'must name each supply once',
    ),
  remarks: text(2000),
});

export const batchChange = batchActuals
  .extend({ version })
  .refine(
    (batch) => batch.startedOn === null || batch.finishedOn === null || batch.finishedOn >= batch.startedOn,
    {
      path: ['finishedOn'],
      error: 'must not be before the day it was started',
    },
  )
  .refine((batch) => batch.status !== 'done' || batch.finishedOn !== null, {
    path: ['finishedOn'],
    error: 'must be given when the batch is done',
  });

export const productKinds = ['bar', 'parcel', 'bead', 'button', 'matte', 'slag', 'lead'] as const;
const fineness = decimal({ min: 0, max: 1 }).nullable().default(null);
const productFields = z.object({
  code: name(40),
  kind: z.enum(productKinds),
  madeOn: isoDate,
  massKg,
  goldFinenessFrac: fineness,
  silverFinenessFrac: fineness,
  /** Standard uncertainties of the weighing and the assays; null: from the mill's scale, or unknown. */
  massStandardUncertaintyKg: decimal({ min: 0, max: 1_000_000 }).nullable().default(null),
  goldStandardUncertaintyFrac: decimal({ min: 0, max: 1 }).nullable().default(null),
  silverStandardUncertaintyFrac: decimal({ min: 0, max: 1 }).nullable().default(null),
  remarks: text(2000).default(''),
});
const notFinerThanFine = (product: { goldFinenessFrac: string | null; silverFinenessFrac: string | null }) =>
  Number(product.goldFinenessFrac ?? 0) + Number(product.silverFinenessFrac ?? 0) <= 1;
const notFiner = { path: ['silverFinenessFrac'], error: 'must not bring gold and silver together above 1' };
export const newProduct = productFields.refine(notFinerThanFine, notFiner);
export const productChange = productFields.extend({ version }).refine(notFinerThanFine, notFiner);
export const product = productFields.extend({ id, batchId: id, version });
export type Product = z.infer<typeof product>;

const costLine = z.object({
  supplyId: id,
  label: z.string(),
  quantity: z.string(),
  unit: z.string(),
  unitPrice: z.string(),
  /** The average cost of the stock, or the list price of the day. */
  pricedBy: z.enum(['average', 'list']),
  amount: z.string(),
});

export const summary = z.object({ mean: number(), p10: number(), p50: number(), p90: number() });

/** The forecast of an option as it was frozen; its inputs are kept with it. */
const forecast = z.object({
  netValue: summary,
  goldPayableOzt: summary,
  silverPayableOzt: summary,
  chanceBestFrac: number(),
  sentence: z.string(),
  breakdown: z.array(z.object({ label: z.string(), amount: number() })),
});

export const batch = batchActuals.extend({
  id,
  code: z.string(),
  lotId: id,
  lotCode: z.string(),
  treatmentId: id.nullable(),
  treatmentName: z.string().nullable(),
  termsId: id,
  termsName: z.string(),
  counterpartyName: z.string(),
  decisionId: id.nullable(),
  plannedOn: isoDate,
  dryMassKg: z.string(),
  currency: z.string(),
  /** Of the chosen option. */
  forecast,
  /** Plans that this one took the place of, the first first, each with the forecast that was frozen with it. */
  superseded: z.array(
    z.object({
      plannedOn: isoDate,
      dryMassKg: z.string(),
      treatmentName: z.string().nullable(),
      counterpartyName: z.string(),
      forecast,
    }),
  ),
  products: z.array(product),
  /** Costs worked from what was used, at the prices of the day; null entries are named in `missing`. */
  costs: z.array(costLine),
  costTotal: z.string(),
  /**
   * Sum of what has been settled and what the newest statements hold back until the final one, with the stage of the
   * newest; null: nothing issued yet.
   */
  settled: z
    .object({ total: z.string(), heldBack: z.string(), stage: z.string(), statementNumber: z.string() })
    .nullable(),
  /** Payable metal by the newest statement, troy ounces. */
  payableGoldOzt: z.string().nullable(),
  payableSilverOzt: z.string().nullable(),
  actualNetValue: z.string().nullable(),
  missing: z.array(z.string()),
  version,
});
export type Batch = z.infer<typeof batch>;
