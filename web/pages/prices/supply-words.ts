import type { Supply } from '../../../api/schemas/supply.ts';
import { priceOn } from '../../../api/calc/books/batch-cost.ts';
import type { Formatter } from '../../lib/format.ts';

/** What a supply is, in the order in which they are listed. */
export const kindWords: Record<Supply['kind'], string> = {
  reagent: 'Reagents',
  lead: 'Lead',
  litharge: 'Litharge',
  iron: 'Iron',
  fuel: 'Fuel',
  crucible: 'Crucibles',
  cupel: 'Cupels',
  labour: 'Labour',
  other: 'Other',
};

/** One supply of its kind, as a choice. */
export const oneOfKind: Record<Supply['kind'], string> = {
  reagent: 'reagent',
  lead: 'lead, as collector',
  litharge: 'litharge',
  iron: 'iron',
  fuel: 'fuel',
  crucible: 'crucible',
  cupel: 'cupel',
  labour: 'labour',
  other: 'other',
};

export const unitWords: Record<Supply['unit'], string> = {
  kg: 'kg',
  L: 'litre',
  each: 'piece',
  h: 'hour',
};

/** `USD/kg`, `USD per piece`. */
export const priceUnit = (currency: string, unit: Supply['unit']): string =>
  unit === 'kg' ? `${currency}/kg` : `${currency} per ${unitWords[unit]}`;

/** The price in force on a day as it is printed; null where there is none yet. */
export function priceText(supply: Supply, on: string, format: Formatter): string | null {
  const price = priceOn(supply, on);
  const dated = supply.prices.find((one) => one.effectiveOn <= on);
  if (price === null || dated === undefined) return null;
  return format.money(price, priceUnit(dated.currency, supply.unit));
}

/**
 * What a mill that smelts and cupels usually buys (common practice). Names
 * only: what they cost is for the owner to say.
 */
export const usualSupplies: readonly Pick<Supply, 'name' | 'kind' | 'unit'>[] = [
  { name: 'Soda ash', kind: 'reagent', unit: 'kg' },
  { name: 'Borax', kind: 'reagent', unit: 'kg' },
  { name: 'Silica sand', kind: 'reagent', unit: 'kg' },
  { name: 'Nitre', kind: 'reagent', unit: 'kg' },
  { name: 'Flour', kind: 'reagent', unit: 'kg' },
  { name: 'Litharge', kind: 'litharge', unit: 'kg' },
  { name: 'Collector lead', kind: 'lead', unit: 'kg' },
  { name: 'Iron scrap', kind: 'iron', unit: 'kg' },
  { name: 'Propane', kind: 'fuel', unit: 'kg' },
  { name: 'Crucible', kind: 'crucible', unit: 'each' },
  { name: 'Labour', kind: 'labour', unit: 'h' },
];
