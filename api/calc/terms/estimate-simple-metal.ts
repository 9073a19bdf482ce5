import { compileMetal } from './estimate-metals.ts';
import { assayGetter, massGetter, num, priceGetter, reached, type EstimateParcel } from './estimate-parts.ts';
import type { MetalTerms } from './metal-terms.ts';
import type { Terms } from './terms.ts';

/**
 * A metal paid by one plain form at a price without escalators, as the figures of
 * payable = max(0, min(slope × grade − cut, otherSlope × grade − otherCut)) × mass × metalPerMassKg.
 */
export interface SimpleMetal {
  symbol: string;
  /** The settlement mass is that of the bars as received; otherwise the dry mass. */
  ofWetMass: boolean;
  metalPerMassKg: number;
  /** The contract's grade of one unit of the parcel's assay. */
  gradePerAssay: number;
  least: number;
  slope: number;
  cut: number;
  otherSlope: number;
  otherCut: number;
  /** Null: the parcel's price. */
  fixedPrice: number | null;
  pricePaidFrac: number;
  priceReduction: number;
  /** Charge on each unit of payable metal. */
  refining: number;
  toOzt: number;
}

const parcel = (parts: Partial<EstimateParcel>): EstimateParcel => ({
  wetMassKg: 0,
  dryMassKg: 0,
  assays: {},
  prices: {},
  ...parts,
});

/** The figures of a metal that is paid plainly; null where steps, bands or escalators ask for `compileMetal`. */
export function simpleMetal(terms: Terms, metal: MetalTerms): SimpleMetal | null {
  const { form, refining } = metal;
  if (form.kind === 'steps' || form.kind === 'bands' || form.kind === 'sliding') return null;
  const { floor = null, cap = null, basis } = metal.price;
  const isPlain =
    metal.minimumDeduction == null &&
    floor === null &&
    cap === null &&
    basis.kind !== 'choice' &&
    basis.kind !== 'by-grade';
  if (!isPlain || (refining?.escalators.length ?? 0) > 0) return null;
  const symbol = metal.metal;
  const paid = num(form.paidFrac);
  const deduction = num(form.deduction);
  const slopes = {
    'lesser-of': { slope: paid, cut: 0, otherSlope: 1, otherCut: deduction },
    'unit-then-percent': { slope: paid, cut: paid * deduction, otherSlope: paid, otherCut: paid * deduction },
    'percent-then-unit': { slope: paid, cut: deduction, otherSlope: paid, otherCut: deduction },
  }[form.kind];
  const unit = terms.assays.find((rule) => rule.element === symbol)?.unit ?? 'g/t';
  const settlement = massGetter(terms, 'settlement', 'kg');
  const fixedPrice = priceGetter(terms, symbol)(parcel({}));
  const rate = refining === null ? 0 : num(refining.rate);
  const asReduction = refining?.kind === 'price-reduction';
  // Metal contained in a kilogram of settlement mass at a grade of one, less what is kept under a toll.
  const { contained, toOzt } = compileMetal(terms, metal);
  const gradePerAssay = assayGetter(terms, symbol, unit)(parcel({ assays: { [symbol]: 1 } }));
  const perKg = contained(parcel({ wetMassKg: 1, dryMassKg: 1, assays: { [symbol]: 1 } })) / gradePerAssay;
  return {
    symbol,
    ofWetMass: settlement(parcel({ wetMassKg: 1 })) !== 0,
    metalPerMassKg: perKg * (1 - num(terms.tollShareFrac)),
    gradePerAssay,
    least: metal.minimumGrade === null ? -Infinity : reached(metal.minimumGrade),
    ...slopes,
    fixedPrice: Number.isNaN(fixedPrice) ? null : fixedPrice,
    pricePaidFrac: num(metal.price.paidFrac),
    priceReduction: num(metal.price.reduction) + (asReduction ? rate : 0),
    refining: asReduction ? 0 : rate,
    toOzt,
  };
}
