import { z } from 'zod';
import { id, isoDate, massKg, number, text } from './fields.ts';
import { USUAL_INQUIRY_COSTS } from '../calc/facts/inquiries.ts';

/** What the owner changes on the page to see the answer follow; null keeps what the records say. */
export const assumptions = z.object({
  goldPricePerOzt: number({ above: 0, max: 10_000_000 }).nullable().default(null),
  silverPricePerOzt: number({ above: 0, max: 10_000_000 }).nullable().default(null),
  annualVolatilityGoldFrac: number({ min: 0, max: 5 }).nullable().default(null),
  annualVolatilitySilverFrac: number({ min: 0, max: 5 }).nullable().default(null),
  wagePerHour: number({ min: 0, max: 100_000 }).nullable().default(null),
  leadPricePerKg: number({ min: 0, max: 100_000 }).nullable().default(null),
  fuelPriceFactor: number({ min: 0, max: 100 }).default(1),
  reagentPriceFactor: number({ min: 0, max: 100 }).default(1),
  goldRecoveryShiftFrac: number({ min: -0.9, max: 0.9 }).default(0),
  saleFreightAndAssays: number({ min: 0, max: 10_000_000 }).default(0),
  /** More would keep everybody else waiting, and tell nothing that 50,000 do not: the ranges move by less than they print. */
  drawCount: z.int().min(500).max(50_000).default(20_000),
  seed: z.int().min(0).max(2_147_483_647).default(20_261),
});

const inquiryCost = (usual: number) => number({ min: 0, max: 10_000_000 }).default(usual);

/** What finding something out costs, in the mill's currency. */
export const inquiryCosts = z.object({
  labAssay: inquiryCost(USUAL_INQUIRY_COSTS.labAssay),
  testSmelt: inquiryCost(USUAL_INQUIRY_COSTS.testSmelt),
  roastTest: inquiryCost(USUAL_INQUIRY_COSTS.roastTest),
  matteAssay: inquiryCost(USUAL_INQUIRY_COSTS.matteAssay),
  fixedPrice: inquiryCost(USUAL_INQUIRY_COSTS.fixedPrice),
});

/** What was chosen: a treatment (null: the concentrate is sold as it is) and the terms it is sold under. */
const choice = z.object({ treatmentId: id.nullable(), termsId: id });

/** A decision to be recorded with its reason; the server works it out again and freezes what it rests on. */
export const newDecision = z.object({
  lotId: id,
  /** The decision is worked from the books as they stood on this day. */
  decidedOn: isoDate,
  dryMassKg: massKg,
  /** Null: the lot is left as it is for now. */
  chosen: choice.nullable(),
  reason: text(2000).min(1, 'must not be empty: say why, for whoever reads it later'),
  assumptions,
  inquiryCosts: inquiryCosts.prefault({}),
});

const range = z.object({ mean: number(), p10: number(), p50: number(), p90: number() });

const decidedOption = z.object({
  id: z.string(),
  name: z.string(),
  kind: z.enum(['in-house', 'sale']),
  netValue: range,
  chanceBestFrac: number(),
  expectedRegret: number(),
});

/** A batch that carries a decision out, and how the choice looks by what has been settled. */
const carriedOut = z.object({
  batchId: id,
  batchCode: z.string(),
  dryMassKg: z.string(),
  status: z.enum(['planned', 'running', 'done', 'cancelled']),
  /** Null: nothing settled yet. */
  hindsight: z
    .object({
      actualNetValue: z.string(),
      stage: z.string(),
      /** Against the range that was forecast of the choice. */
      standing: z.enum(['below', 'within', 'above']),
      /** Against the ranges of all other options. */
      verdict: z.enum(['above-others', 'within-reach', 'below-another', 'nothing-else']),
      sentence: z.string(),
    })
    .nullable(),
});

export const decision = z.object({
  id,
  lotId: id,
  lotCode: z.string(),
  decidedOn: isoDate,
  dryMassKg: z.string(),
  currency: z.string(),
  /** Null: the lot was left as it is. */
  chosen: choice.extend({ optionId: z.string(), name: z.string() }).nullable(),
  reason: z.string(),
  /** What was said of the options when it was recorded. */
  sentence: z.string(),
  /** The options as they were frozen, best expected net value first. */
  options: z.array(decidedOption),
  assumptions,
  batches: z.array(carriedOut),
  createdAt: z.string(),
});
export type DecisionRecord = z.infer<typeof decision>;
