import { z } from 'zod';
import {
  atLeastZero,
  currency,
  date,
  days,
  decimal,
  element,
  eventNameSchema,
  fraction,
  gradeUnitSchema,
  name,
  positive,
  priceUnit,
  rounding,
} from './terms-basics.ts';
import { escalator } from './terms-charges.ts';

export const assayRule = z.object({
  element,
  unit: gradeUnitSchema,
  rounding,
  settledBy: z.discriminatedUnion('kind', [
    z.object({ kind: z.literal('seller') }),
    z.object({ kind: z.literal('buyer') }),
    z.object({ kind: z.literal('mean') }),
    z.object({
      kind: z.literal('exchange'),
      splittingLimits: z
        .array(
          z.object({
            fromGrade: atLeastZero,
            limit: atLeastZero,
            relativeFrac: fraction.nullable().optional(),
          }),
        )
        .min(1),
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
    by: element.nullable().optional(),
    steps: z.array(z.object({ fromGrade: atLeastZero, form: simpleForm })).min(1),
  }),
  z.object({
    kind: z.literal('sliding'),
    form: simpleForm,
    slides: z.enum(['paidFrac', 'deduction']),
    by: element.nullable(),
    fromGrade: atLeastZero,
    step: positive,
    change: decimal,
    counting: z.enum(['pro-rata', 'whole-steps']),
    minimum: atLeastZero.nullable(),
    maximum: atLeastZero.nullable(),
  }),
  z.object({
    kind: z.literal('bands'),
    bands: z.array(z.object({ fromGrade: atLeastZero, paidFrac: fraction })).min(1),
  }),
]);

const quotationalPeriod = z.discriminatedUnion('kind', [
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

const quotedParts = {
  kind: z.literal('quotations'),
  source: name,
  period: quotationalPeriod,
  provisional: z.discriminatedUnion('kind', [
    z.object({ kind: z.literal('latest') }),
    z.object({ kind: z.literal('mean-of-last'), quotations: z.int().min(1).max(400) }),
  ]),
};

const priceBasis = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('fixed'), price: atLeastZero }),
  z.object({
    kind: z.literal('by-grade'),
    steps: z
      .array(z.object({ fromGrade: atLeastZero, price: atLeastZero }))
      .min(1)
      .max(30),
  }),
  z.object(quotedParts),
  z.object({
    kind: z.literal('choice'),
    rule: z.enum(['lowest', 'highest', 'mean', 'seller-option', 'buyer-option']),
    options: z
      .array(z.object({ ...quotedParts, paidFrac: fraction }))
      .min(1)
      .max(10),
  }),
]);

export const metalTerms = z.object({
  metal: element,
  form: payableForm,
  minimumGrade: atLeastZero.nullable(),
  minimumDeduction: atLeastZero.nullable().optional(),
  order: z.enum(['grade', 'content']),
  price: z.object({
    unit: priceUnit,
    currency: currency.nullable(),
    basis: priceBasis,
    paidFrac: fraction,
    reduction: atLeastZero,
    floor: atLeastZero.nullable().optional(),
    cap: atLeastZero.nullable().optional(),
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
