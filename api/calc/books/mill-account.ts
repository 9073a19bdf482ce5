import type { Metal } from '../evidence/lot-evidence.ts';
import { METAL_NAMES } from '../evidence/lot-evidence.ts';
import type { Measured } from '../measured.ts';
import {
  productGrade,
  productMass,
  type MillScales,
  type WeighedProduct,
} from '../production/product-metal.ts';
import { metalAccount, type MetalAccount, type MetalAmount } from './metal-account.ts';

/** Where the mill's metal is. */
export type Stage = 'lots' | 'in-work' | 'products' | 'with-buyers';

export interface StateProduct extends WeighedProduct {
  id: string;
  code: string;
  lotId: string;
}

/** Lots, batches and products as they lay at the end of a day. Decimal texts, kg dry. */
export interface MillState {
  on: string;
  /** Concentrate of days that no lot was made from yet: nothing says what it holds. */
  daysDryKg: string;
  lots: { id: string; code: string; leftKg: string }[];
  inWork: { id: string; code: string; lotId: string; lotCode: string; dryMassKg: string }[];
  products: StateProduct[];
  /** Gone out and not settled for good. */
  withBuyers: StateProduct[];
}

/** What came in and went out between two states. */
export interface MillMovements {
  /** Lots made, by what of them is new to the mill: not taken from other lots or products. */
  received: { lotId: string; code: string; dryMassKg: string }[];
  /** Taken out of lots for test smelts and written off, by lot. */
  takenFromLots: { lotId: string; code: string; dryMassKg: string; why: string }[];
  productsOut: StateProduct[];
  productsWrittenOff: StateProduct[];
}

export type LotGrades = ReadonlyMap<string, Record<Metal, Measured | null>>;

const UNKNOWN: Record<Metal, null> = { Au: null, Ag: null };

interface Context {
  metal: Metal;
  grades: LotGrades;
  scales: MillScales;
}

/**
 * Metal in a mass, its grade's error and its weighing's apart, each shared with whatever rests on the same one: the
 * second amount carries the error of the weighing alone.
 */
function amounts(
  label: string,
  mass: Measured,
  grade: Measured | null,
  shares: { grade: string; mass: string },
): MetalAmount[] {
  if (grade === null) return [];
  const value = (mass.value * grade.value) / 1000;
  return [
    { label, metalG: { value, u: (mass.value * grade.u) / 1000 }, sharesErrorWith: shares.grade },
    { label, metalG: { value: 0, u: (mass.u * grade.value) / 1000 }, sharesErrorWith: shares.mass },
  ];
}

/** Metal in a mass out of a lot; everything out of one lot shares the error of its weighing and of its grade. */
function ofLot(
  { lotId, label, dryMassKg }: Record<'lotId' | 'label' | 'dryMassKg', string>,
  { metal, grades, scales }: Context,
): MetalAmount[] {
  const mass = {
    value: Number(dryMassKg),
    u: Number(scales.lotScaleUncertaintyFrac) * Number(dryMassKg),
  };
  const shares = { grade: `grade of lot ${lotId}`, mass: `mass of lot ${lotId}` };
  return amounts(label, mass, grades.get(lotId)?.[metal] ?? null, shares);
}

/** A product that holds what its lot holds shares the error of the lot's grade, but was weighed for itself. */
function ofProduct(product: StateProduct, { metal, grades, scales }: Context): MetalAmount[] {
  const lotGrade = grades.get(product.lotId) ?? UNKNOWN;
  const held = productGrade(product, lotGrade)[metal];
  if (held === null) return [];
  return amounts(product.code, productMass(product, scales), held.gradeGpt, {
    grade: held.ofLot ? `grade of lot ${product.lotId}` : `grade of product ${product.id}`,
    mass: `mass of product ${product.id}`,
  });
}

/** What of a metal lies at each stage. */
export function metalByStage(state: MillState, context: Context): Record<Stage, MetalAmount[]> {
  return {
    lots: state.lots.flatMap(({ id, code, leftKg }) =>
      ofLot({ lotId: id, label: `Lot ${code}`, dryMassKg: leftKg }, context),
    ),
    'in-work': state.inWork.flatMap(({ lotId, code, dryMassKg }) =>
      ofLot({ lotId, label: `Batch ${code}`, dryMassKg }, context),
    ),
    products: state.products.flatMap((product) => ofProduct(product, context)),
    'with-buyers': state.withBuyers.flatMap((product) => ofProduct(product, context)),
  };
}

const atMill = (stages: Record<Stage, MetalAmount[]>): MetalAmount[] => [
  ...stages.lots,
  ...stages['in-work'],
  ...stages.products,
];

export interface MillMetalAccount {
  metal: Metal;
  account: MetalAccount;
  opening: Record<Stage, MetalAmount[]>;
  received: MetalAmount[];
  /** Taken for test smelts and written off; and gone out to buyers. */
  taken: MetalAmount[];
  shipped: MetalAmount[];
  closing: Record<Stage, MetalAmount[]>;
  /** Lots and products at either end, or moved, of which nothing says what they hold. */
  unknown: string[];
}

/**
 * The account of one metal of the whole mill between two days: what lay there in lots, in work and in products, and
 * what lots brought, less test smelts, what was written off and what went out to buyers, against what lies there by
 * weighing and assay. What the batches gave less than their concentrate held, in slag, matte and losses that are not
 * assayed, is what is unaccounted. Metal of lots that are made from other lots or products is moved, not received.
 */
export function millMetalAccount({
  metal,
  opening,
  closing,
  movements,
  grades,
  scales,
}: {
  metal: Metal;
  opening: MillState;
  closing: MillState;
  movements: MillMovements;
  grades: LotGrades;
  scales: MillScales;
}): MillMetalAccount {
  const context = { metal, grades, scales };
  const stages = { opening: metalByStage(opening, context), closing: metalByStage(closing, context) };
  const received = movements.received.flatMap((one) => ofLot({ ...one, label: `Lot ${one.code}` }, context));
  const taken = [
    ...movements.takenFromLots.flatMap((one) =>
      ofLot({ ...one, label: `Lot ${one.code}, ${one.why}` }, context),
    ),
    ...movements.productsWrittenOff.flatMap((product) => ofProduct(product, context)),
  ];
  const shipped = movements.productsOut.flatMap((product) => ofProduct(product, context));
  const account = metalAccount({
    metal: METAL_NAMES[metal],
    opening: atMill(stages.opening),
    received,
    released: [...taken, ...shipped],
    closing: atMill(stages.closing),
  });
  const lots = [
    ...[opening, closing].flatMap((state) => [
      ...state.lots.map(({ id, code }) => ({ id, code })),
      ...state.inWork.map(({ lotId, lotCode }) => ({ id: lotId, code: lotCode })),
    ]),
    ...movements.received.map(({ lotId, code }) => ({ id: lotId, code })),
  ];
  const unknownLots = lots.filter(({ id }) => (grades.get(id)?.[metal] ?? null) === null);
  const unknownBars = [opening, closing]
    .flatMap(({ products }) => products)
    .concat(movements.productsOut)
    .filter((one) => (one.kind === 'bar' || one.kind === 'bead') && ofProduct(one, context).length === 0);
  return {
    metal,
    account,
    opening: stages.opening,
    received,
    taken,
    shipped,
    closing: stages.closing,
    unknown: [
      ...new Set([...unknownLots.map(({ code }) => `lot ${code}`), ...unknownBars.map(({ code }) => code)]),
    ],
  };
}
