import { Dec } from '../money.ts';
import { chooserOf } from './choosing-elements.ts';
import { convert, massConversion, type Conversion } from './conversion.ts';
import {
  assayGetter,
  compileEscalators,
  compileForm,
  massGetter,
  metalFactor,
  num,
  priceGetter,
  reached,
  type FromParcel,
} from './estimate-parts.ts';
import { leastGradePaid } from './price-bases.ts';
import type { MetalTerms } from './metal-terms.ts';
import type { Terms } from './terms.ts';

export interface CompiledMetal {
  symbol: string;
  /** Payable metal in the unit of its price, after any toll share. */
  mass: FromParcel;
  contained: FromParcel;
  netPrice: FromParcel;
  refining: FromParcel;
  toOzt: number;
}

/** Payable and contained metal, net price and refining of one metal as functions of the parcel. */
export function compileMetal(terms: Terms, metal: MetalTerms): CompiledMetal {
  const symbol = metal.metal;
  const rule = terms.assays.find((r) => r.element === symbol);
  const unit = rule?.unit ?? 'g/t';
  const assay = assayGetter(terms, symbol, unit);
  const settlement = massGetter(terms, 'settlement', 'kg');
  const factor = metalFactor(terms, 'kg', unit, metal.price.unit);
  const form = compileForm(metal.form);
  const chosenBy = chooserOf(metal.form);
  const chooser =
    chosenBy === null
      ? null
      : assayGetter(terms, chosenBy, terms.assays.find((r) => r.element === chosenBy)?.unit ?? 'percent');
  const keptBack = metal.minimumDeduction == null ? 0 : num(metal.minimumDeduction);
  const floor = metal.price.floor == null ? -Infinity : num(metal.price.floor);
  const cap = metal.price.cap == null ? Infinity : num(metal.price.cap);
  const keep = 1 - num(terms.tollShareFrac);
  const leastPaid = leastGradePaid(metal);
  const least = leastPaid === null ? -Infinity : reached(leastPaid);
  const quoted = priceGetter(terms, symbol);
  const paidFrac = num(metal.price.paidFrac);
  const reduction = num(metal.price.reduction);
  const { refining } = metal;
  const change = compileEscalators(terms, refining?.escalators ?? []);
  const base = refining === null ? 0 : num(refining.rate);
  const rate: FromParcel = (parcel) => base + change(parcel);
  const asReduction = refining?.kind === 'price-reduction';
  const toOzt =
    metal.price.unit === 'unit' ? Number.NaN : constant(terms, massConversion(metal.price.unit, 'ozt'));
  return {
    symbol,
    contained: (parcel) => settlement(parcel) * assay(parcel) * factor,
    mass: (parcel) => {
      const grade = assay(parcel);
      // A form is proportional to its unit, so content-first and grade-first agree before rounding.
      if (grade < least) return 0;
      const paid = form(grade, chooser === null ? grade : chooser(parcel));
      const payable = keptBack === 0 ? paid : Math.max(0, Math.min(paid, grade - keptBack));
      return settlement(parcel) * payable * factor * keep;
    },
    netPrice: (parcel) =>
      Math.max(floor, Math.min(cap, quoted(parcel))) * paidFrac -
      reduction -
      (asReduction ? rate(parcel) : 0),
    refining: asReduction ? () => 0 : rate,
    toOzt,
  };
}

function constant(terms: Terms, conversion: Conversion): number {
  return convert(new Dec(1), conversion, terms.factors).toNumber();
}
