import { z } from 'zod';
import {
  atLeastZero,
  currency,
  decimal,
  element,
  fraction,
  gradeUnitSchema,
  massBasis,
  massUnitSchema,
  name,
  positive,
} from './terms-basics.ts';

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
const shortfallLadder = marginalLadder.extend({ kind: z.literal('shortfall') });
const ladder = z.discriminatedUnion('kind', [marginalLadder, shortfallLadder, bracketLadder]);

export const escalator = z.object({
  metal: element,
  up: marginalLadder.nullable(),
  down: shortfallLadder.nullable(),
  maximumIncrease: atLeastZero.nullable(),
  maximumDecrease: atLeastZero.nullable(),
});

const purpose = z.enum([
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
]);
const chargeName = {
  purpose,
  name,
  currency: currency.nullable(),
};
export const charge = z.discriminatedUnion('kind', [
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
    kind: z.literal('by-level'),
    level: z.discriminatedUnion('kind', [
      z.object({ kind: z.literal('grade'), elements: z.array(element).min(1), unit: gradeUnitSchema }),
      z.object({ kind: z.literal('price'), metal: element }),
      z.object({ kind: z.literal('mass'), basis: massBasis, unit: massUnitSchema }),
    ]),
    ladder,
    basis: massBasis,
    unit: massUnitSchema,
    minimum: atLeastZero.nullable(),
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
export const penalty = z.object({ ...onElements, refusedAbove: atLeastZero.nullable() });
export const credit = z.discriminatedUnion('kind', [
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

export const royalty = z.object({
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

export const tax = z.object({
  name,
  rateFrac: fraction,
  base: z.discriminatedUnion('kind', [
    z.object({ kind: z.literal('payable-value') }),
    z.object({ kind: z.literal('net-value') }),
    z.object({ kind: z.literal('charges'), purposes: z.array(purpose) }),
  ]),
  effect: z.enum(['added', 'deducted']),
  isPassedOn: z.boolean(),
});
