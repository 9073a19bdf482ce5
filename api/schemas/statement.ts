import { z } from 'zod';
import { currency, decimal, element, id, isoDate, moistureFrac, name, price, version } from './fields.ts';
import { element as elementOrCompound } from './terms-basics.ts';

const weighedKg = decimal({ min: 0, max: 10_000_000 });
const weighedG = decimal({ above: 0, max: 10_000_000 });

const concentrateParcel = z.object({
  kind: z.literal('concentrate'),
  sublots: z
    .array(z.object({ name: name(60), grossKg: weighedKg, tareKg: weighedKg, moistureFrac }))
    .min(1, 'must have at least one sublot')
    .max(200),
});
const doreParcel = z.object({
  kind: z.literal('dore'),
  bars: z
    .array(z.object({ name: name(60), receivedG: weighedG, afterMeltG: weighedG.nullable() }))
    .min(1, 'must have at least one bar')
    .max(200),
});

const result = decimal({ min: 0, max: 1_000_000 }).nullable();
const parties = ['own', 'buyer', 'umpire'] as const;
/** The whole of the material, in the units in which a slip of the point would exceed it. */
const whole = { percent: 100, fineness: 1000 };
const assayInput = z
  .object({
    element: elementOrCompound,
    unit: z.enum(['g/t', 'ppm', 'percent', 'fineness', 'oz/t', 'oz/short ton', 'oz/long ton']),
    own: result,
    buyer: result,
    umpire: result,
    sublot: name(60).nullable().default(null),
  })
  .superRefine((assay, context) => {
    const { unit } = assay;
    if (unit !== 'percent' && unit !== 'fineness') return;
    for (const party of parties)
      if (Number(assay[party] ?? 0) > whole[unit])
        context.addIssue({
          code: 'custom',
          path: [party],
          input: assay[party],
          message: `must be at most ${whole[unit]}, the whole of the material`,
        });
  });

const date = isoDate.nullable();
export const settlementDates = z.object({
  shippedOn: date,
  arrivedOn: date,
  weighedOn: date,
  meltedOn: date,
  assaysExchangedOn: date,
  priceDeclaredOn: date,
  statementOn: date,
});

export const statementStages = ['provisional', 'second-provisional', 'final', 'adjustment'] as const;

/** Place of one of the contract's price options, from 0. */
const place = z.int().min(0).max(9);

/** What is entered for a statement; prices come from the stored quotations unless one was agreed. */
export const statementEntry = z.object({
  productId: id,
  termsId: id,
  stage: z.enum(statementStages),
  parcel: z.discriminatedUnion('kind', [concentrateParcel, doreParcel]),
  assays: z.array(assayInput).max(400),
  agreedPrices: z
    .array(z.object({ metal: element, price, basis: name(200), option: place.optional() }))
    .max(40)
    .default([]),
  exchangeRates: z
    .array(z.object({ currency, rate: decimal({ above: 0 }), date: isoDate }))
    .max(20)
    .default([]),
  /** Where a party may choose the price: which of the contract's options it has declared, from 0. */
  declaredOptions: z
    .array(z.object({ metal: element, option: place }))
    .max(40)
    .optional(),
  /** Amounts agreed for this parcel alone; below zero they are deducted from what the seller gets. */
  agreedItems: z
    .array(z.object({ name: name(120), amount: decimal({}), reason: name(200) }))
    .max(40)
    .optional(),
  dates: settlementDates,
});
export type StatementEntry = z.infer<typeof statementEntry>;
export const statementEntryChange = statementEntry.extend({ version });

export const finding = z.object({
  code: z.string(),
  level: z.enum(['note', 'warning', 'blocker']),
  path: z.string(),
  sentence: z.string(),
});
const printed = z.object({ value: z.string(), unit: z.string() }).nullable();
export const sections = [
  'weights',
  'assays',
  'prices',
  'payable',
  'charges',
  'penalties',
  'credits',
  'royalties',
  'taxes',
  'previous',
  'total',
] as const;
export const settlement = z.object({
  currency: z.string(),
  moneyDecimals: z.int(),
  lines: z.array(
    z.object({
      id: z.string(),
      section: z.enum(sections),
      label: z.string(),
      working: z.string(),
      quantity: printed,
      rate: printed,
      result: printed,
      amount: z.string().nullable(),
    }),
  ),
  total: z.string(),
  roundingRules: z.array(z.string()),
  findings: z.array(finding),
});

export const statementSummary = z.object({
  id,
  number: z.string().nullable(),
  stage: z.enum(statementStages),
  status: z.enum(['draft', 'issued']),
  issuedOn: z.string().nullable(),
  supersedesNumber: z.string().nullable(),
  productId: id,
  productCode: z.string(),
  batchId: id,
  batchCode: z.string(),
  termsId: id,
  termsName: z.string(),
  counterpartyName: z.string(),
  total: z.string(),
  currency: z.string(),
  /** Day by which the terms have it paid; null where they name none, and on a draft. */
  dueOn: z.string().nullable(),
  /** What has been paid on it, in its currency. */
  paid: z.string(),
  version: z.int(),
});
export type StatementSummary = z.infer<typeof statementSummary>;

export const statement = statementSummary.extend({ entry: statementEntry, settlement });
export type Statement = z.infer<typeof statement>;
