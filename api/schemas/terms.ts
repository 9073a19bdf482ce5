import { z } from 'zod';
import type { Terms } from '../calc/terms/terms.ts';
import {
  atLeastZero,
  currency,
  eventNameSchema,
  fraction,
  massBasis,
  massUnitSchema,
  name,
  positive,
  rounding,
  settlementStageSchema,
} from './terms-basics.ts';
import { charge, credit, penalty, royalty, tax } from './terms-charges.ts';
import { assayRule, metalTerms } from './terms-metals.ts';

const advance = z.object({ shareFrac: fraction, of: z.enum(['net-value', 'payable-value']) });

/** A contract as it comes over the wire; its shape is `Terms`, its sense is checked by `checkTerms`. */
export const termsSchema = z.object({
  title: name,
  direction: z.enum(['we-sell', 'we-buy', 'we-toll']),
  material: z.enum(['concentrate', 'dore', 'by-product']),
  currency,
  factors: z.object({
    ounceG: positive,
    poundsPerTonne: positive,
    shortTonsPerTonne: positive,
    longTonsPerTonne: positive,
  }),
  weights: z.discriminatedUnion('kind', [
    z.object({ kind: z.literal('dry'), unit: massUnitSchema, franchiseFrac: fraction }),
    z.object({
      kind: z.literal('melt'),
      unit: massUnitSchema,
      massOfRecord: z.enum(['after-melting', 'received']),
      meltLossLimitFrac: fraction.nullable(),
    }),
  ]),
  acceptance: z
    .object({
      basis: massBasis,
      unit: massUnitSchema,
      minimum: atLeastZero.nullable(),
      maximum: positive.nullable(),
    })
    .nullable(),
  valuation: z.discriminatedUnion('kind', [
    z.object({ kind: z.literal('payable-metal') }),
    z.object({ kind: z.literal('per-tonne'), unit: massUnitSchema, totalPerTonne: z.boolean() }),
  ]),
  settledIn: z.enum(['money', 'metal']),
  tollShareFrac: fraction,
  assays: z.array(assayRule),
  metals: z.array(metalTerms),
  charges: z.array(charge),
  minimumCharges: atLeastZero.nullable(),
  penalties: z.array(penalty),
  credits: z.array(credit),
  royalties: z.array(royalty),
  taxes: z.array(tax).optional(),
  exchangeRates: z.array(z.object({ currency, rateOn: eventNameSchema, source: name })),
  paidIn: currency.nullable(),
  provisional: advance.nullable(),
  secondProvisional: advance.nullable(),
  interest: z
    .object({
      rateFrac: fraction,
      dayCount: z.enum(['ACT/360', 'ACT/365', '30/360']),
      period: z.discriminatedUnion('kind', [
        z.object({ kind: z.literal('until'), event: eventNameSchema }),
        z.object({ kind: z.literal('days'), days: z.int().min(0).max(1000) }),
      ]),
    })
    .nullable(),
  payment: z.array(
    z.object({
      stage: settlementStageSchema,
      days: z.int().min(0).max(1000),
      dayKind: z.enum(['calendar', 'business']),
      after: eventNameSchema,
    }),
  ),
  rounding: z.object({
    mass: rounding,
    moisture: rounding,
    payableGrade: rounding,
    payableMetal: rounding,
    price: rounding,
    perTonneValue: rounding,
    money: rounding,
  }),
}) satisfies z.ZodType<Terms>;
