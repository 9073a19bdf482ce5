import { Dec, sumOf, type DecimalNumber } from '../money.ts';
import type { BookProduct } from './book-records.ts';

/**
 * The products of a batch that bear its cost: bars, beads and parcels; where there is none of them, whatever it gave.
 * By-products beside them bear none. Source: IAS 2 Inventories §14 (by-products measured at net realizable value are
 * taken off the cost of the main product; here their value is not known until they are sold, and taken as nothing).
 */
export function takesCost(products: readonly BookProduct[]): BookProduct[] {
  const main = products.filter(({ kind }) => kind === 'bar' || kind === 'bead' || kind === 'parcel');
  return (main.length > 0 ? main : [...products]).toSorted((a, b) => (a.id < b.id ? -1 : 1));
}

/**
 * By what the cost of a batch is shared: Σ contained metal [g] × last quotation [money/g]; where one of the products
 * has no assay, or a metal no quotation, by dry mass. Source: IAS 2 Inventories §14 (relative sales value).
 */
export function shareWeights(
  products: readonly BookProduct[],
  pricePerG: (metal: 'Au' | 'Ag') => DecimalNumber | null,
): DecimalNumber[] {
  const gold = pricePerG('Au');
  const silver = pricePerG('Ag');
  const values = products.map(({ goldG, silverG }) =>
    goldG === null || silverG === null || gold === null || silver === null
      ? null
      : gold.times(goldG).plus(silver.times(silverG)),
  );
  if (values.every((value) => value !== null) && sumOf(values).greaterThan(0)) return values;
  const masses = products.map(({ dryMassKg }) => new Dec(dryMassKg));
  return sumOf(masses).greaterThan(0) ? masses : products.map(() => new Dec(1));
}
