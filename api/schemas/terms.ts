import { z } from 'zod';
import { isIsoDate } from '../calc/calendar.ts';
import { isDecimalText } from '../calc/money.ts';
import type { Terms } from '../calc/terms/terms.ts';

const decimal = z
  .string()
  .refine((text) => isDecimalText(text), 'Write a plain decimal number, for example 0.97 or 1250.00.');
const positive = decimal.refine((text) => Number(text) > 0, 'Must be more than zero.');
const atLeastZero = decimal.refine((text) => !text.startsWith('-'), 'Must not be negative.');
const fraction = atLeastZero.refine((text) => Number(text) <= 1, 'Must be a fraction between 0 and 1.');
const currency = z.string().regex(/^[A-Z]{3}$/, 'Three capital letters, for example USD.');
const date = z.string().refine((text) => isIsoDate(text), 'Write the date as year-month-day.');
const name = z.string().trim().min(1).max(200);
const element = z.string().regex(/^[A-Z][A-Za-z0-9]{0,7}$/, 'A chemical symbol such as Au or SiO2.');
const days = z.int().min(-400).max(400);

export const gradeUnitSchema = z.enum([
  'g/t',
  'ppm',
  'percent',
  'fineness',
  'oz/t',
  'oz/short ton',
  'oz/long ton',
]);
export const massUnitSchema = z.enum(['kg', 'g', 'tonne', 'short ton', 'long ton', 'lb', 'ozt']);
const priceUnit = z.enum([...massUnitSchema.options, 'unit']);
const massBasis = z.enum(['gross', 'wet', 'moisture', 'dry', 'received', 'settlement']);
export const eventNameSchema = z.enum([
  'shipment',
  'arrival',
  'weighing',
  'melting',
  'assay-exchange',
  'price-declaration',
  'statement',
]);
export const settlementStageSchema = z.enum(['provisional', 'second-provisional', 'final']);

const rounding = z.object({
  decimals: z.int().min(0).max(12),
  rule: z.enum(['half-up', 'half-even', 'truncate']),
  multipleOf: positive.nullable(),
});

const assayRule = z.object({
  element,
  unit: gradeUnitSchema,
  rounding,
  settledBy: z.discriminatedUnion('kind', [
    z.object({ kind: z.literal('seller') }),
    z.object({ kind: z.literal('buyer') }),
    z.object({ kind: z.literal('mean') }),
    z.object({
      kind: z.literal('exchange'),
      splittingLimits: z.array(z.object({ fromGrade: atLeastZero, limit: atLeastZero })).min(1),
      umpire: z.object({
        rule: z.enum(['middle-of-three', 'mean-of-nearest-two', 'mean-of-umpire-and-nearer', 'nearer-party']),
        cost: atLeastZero.nullable(),
        costBorneBy: z.enum(['further-party', 'shared', 'seller', 'buyer']),
        advancedBy: z.enum(['seller', 'buyer']),
      }),
      absentPartyBound: z.boolean(),
    }),
  ]),
});

const marginalLadder = z.object({
  kind: z.literal('marginal'),
  counting: z.enum(['pro-rata', 'whole-steps', 'started-steps']),
  bands: z.array(z.object({ from: atLeastZero, step: positive, rate: decimal })).min(1),
});
const bracketLadder = z.object({
  kind: z.literal('bracket'),
  brackets: z
    .array(z.object({ from: atLeastZero, reachedAt: z.enum(['level', 'above']), rate: decimal }))
    .min(1),
});
const ladder = z.discriminatedUnion('kind', [marginalLadder, bracketLadder]);

const escalator = z.object({
  metal: element,
  up: marginalLadder.nullable(),
  down: marginalLadder.nullable(),
  maximumIncrease: atLeastZero.nullable(),
  maximumDecrease: atLeastZero.nullable(),
});

const formParts = { paidFrac: fraction, deduction: atLeastZero };
const lesserOf = z.object({ kind: z.literal('lesser-of'), ...formParts });
const unitThenPercent = z.object({ kind: z.literal('unit-then-percent'), ...formParts });
const percentThenUnit = z.object({ kind: z.literal('percent-then-unit'), ...formParts });
const simpleForm = z.discriminatedUnion('kind', [lesserOf, unitThenPercent, percentThenUnit]);
const payableForm = z.discriminatedUnion('kind', [
  lesserOf,
  unitThenPercent,
  percentThenUnit,
  z.object({
    kind: z.literal('steps'),
    steps: z.array(z.object({ fromGrade: atLeastZero, form: simpleForm })).min(1),
  }),
  z.object({
    kind: z.literal('bands'),
    bands: z.array(z.object({ fromGrade: atLeastZero, paidFrac: fraction })).min(1),
  }),
]);

export const quotationalPeriodSchema = z.discriminatedUnion('kind', [
  z.object({
    kind: z.literal('calendar-month'),
    event: eventNameSchema,
    monthsAfter: z.int().min(-12).max(24),
  }),
  z.object({
    kind: z.literal('calendar-week'),
    event: eventNameSchema,
    weeksAfter: z.int().min(-52).max(104),
  }),
  z.object({
    kind: z.literal('business-days'),
    event: eventNameSchema,
    from: days,
    to: days,
    holidays: z.array(date),
  }),
  z.object({ kind: z.literal('calendar-days'), event: eventNameSchema, from: days, to: days }),
  z.object({ kind: z.literal('dates'), from: date, to: date }),
]);

export const priceBasisSchema = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('fixed'), price: atLeastZero }),
  z.object({
    kind: z.literal('quotations'),
    source: name,
    period: quotationalPeriodSchema,
    provisional: z.discriminatedUnion('kind', [
      z.object({ kind: z.literal('latest') }),
      z.object({ kind: z.literal('mean-of-last'), quotations: z.int().min(1).max(400) }),
    ]),
  }),
]);

const metalTerms = z.object({
  metal: element,
  form: payableForm,
  minimumGrade: atLeastZero.nullable(),
  order: z.enum(['grade', 'content']),
  price: z.object({
    unit: priceUnit,
    currency: currency.nullable(),
    basis: priceBasisSchema,
    paidFrac: fraction,
    reduction: atLeastZero,
  }),
  refining: z
    .object({
      kind: z.enum(['per-payable-unit', 'price-reduction']),
      rate: atLeastZero,
      escalators: z.array(escalator),
    })
    .nullable(),
  rounding: rounding.nullable(),
});

const chargeName = {
  purpose: z.enum([
    'treatment',
    'refining',
    'lot',
    'sampling',
    'assaying',
    'representation',
    'freight',
    'insurance',
    'handling',
    'other',
  ]),
  name,
  currency: currency.nullable(),
};
const charge = z.discriminatedUnion('kind', [
  z.object({
    ...chargeName,
    kind: z.literal('per-mass'),
    rate: decimal,
    basis: massBasis,
    unit: massUnitSchema,
    minimum: atLeastZero.nullable(),
    escalators: z.array(escalator),
  }),
  z.object({
    ...chargeName,
    kind: z.literal('flat'),
    amount: decimal,
    per: z.enum(['parcel', 'piece']),
    onlyBelow: z.object({ basis: massBasis, unit: massUnitSchema, mass: positive }).nullable(),
  }),
  z.object({
    ...chargeName,
    kind: z.literal('per-started-lot'),
    amount: decimal,
    basis: massBasis,
    unit: massUnitSchema,
    mass: positive,
  }),
  z.object({
    ...chargeName,
    kind: z.literal('by-value'),
    brackets: bracketLadder,
    basis: massBasis,
    unit: massUnitSchema,
  }),
  z.object({
    ...chargeName,
    kind: z.literal('share-of-value'),
    shareFrac: fraction,
    ofFrac: positive,
    minimum: atLeastZero.nullable(),
  }),
]);

const onElements = {
  name,
  elements: z.array(element).min(1),
  unit: gradeUnitSchema,
  ladder,
  basis: massBasis,
  massUnit: massUnitSchema,
};
const penalty = z.object({ ...onElements, refusedAbove: atLeastZero.nullable() });
const credit = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('component'), ...onElements }),
  z.object({
    kind: z.literal('per-mass'),
    name,
    rate: decimal,
    basis: massBasis,
    massUnit: massUnitSchema,
  }),
  z.object({
    kind: z.literal('assay-value'),
    name,
    metals: z.array(element).min(1),
    above: atLeastZero,
    shareFrac: fraction,
    massUnit: massUnitSchema,
  }),
]);

const royalty = z.object({
  name,
  kind: z.enum(['royalty', 'production-tax']),
  base: z.discriminatedUnion('kind', [
    z.object({ kind: z.literal('net-smelter-return') }),
    z.object({ kind: z.literal('gross-value') }),
    z.object({
      kind: z.literal('own-price'),
      metals: z
        .array(
          z.object({
            metal: element,
            mass: z.enum(['contained', 'payable']),
            price: atLeastZero.nullable(),
          }),
        )
        .min(1),
    }),
  ]),
  rate: z.discriminatedUnion('kind', [
    z.object({ kind: z.literal('flat'), rateFrac: fraction }),
    z.object({
      kind: z.literal('bands'),
      bands: z.array(z.object({ from: atLeastZero, rateFrac: fraction })).min(1),
    }),
    z.object({
      kind: z.literal('price-steps'),
      metal: element,
      steps: z.array(z.object({ from: atLeastZero, rateFrac: fraction })).min(1),
    }),
  ]),
  exemption: atLeastZero.nullable(),
  paidBy: z.enum(['buyer-withholds', 'seller-pays']),
  payees: z.array(z.object({ name, share: positive })),
});

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
