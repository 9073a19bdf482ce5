import { Dec } from '../money.ts';
import { halfUp, roundedText } from '../rounding.ts';
import { compileEstimate, estimateNeeds, type EstimateParcel } from '../terms/estimate.ts';
import type { Terms } from '../terms/terms.ts';

/** Material that will be sold, as it is or as the bar that is made of it. */
export interface SaleableMaterial {
  /** kg as weighed and dry; of bars both are the mass. */
  wetMassKg: number;
  dryMassKg: number;
  /** Metal that will be sold, g; null where it is not known. */
  goldG: number | null;
  silverG: number | null;
  /** By which it will most likely be sold; null where there are none. */
  terms: Terms | null;
  /** What has still to be spent until it can be sold, in the mill's currency. */
  costToComplete: number;
}

export interface Realizable {
  /** To the cent, never below zero; null where it cannot be told, and why. */
  value: string | null;
  remark: string;
}

/** Share of a bar that is gold and silver where it is not cast yet: only charges by the gross ounce hang on it. */
const DORE_FINENESS = 0.95;

/**
 * What material will fetch, less the cost to finish and to sell it: the estimate of the likely terms (payable metal at
 * the last quotation, less charges, refining, penalties that are known, and what the buyer withholds) less the cost to
 * complete. An element of a penalty that was not assayed counts as none. Estimates; what is booked is the lower of
 * this and cost. Source: IAS 2 Inventories §6, §30–31.
 */
export function netRealizableValue({
  material,
  priceOf,
  told,
}: {
  material: SaleableMaterial;
  /** Last quotation of a metal as the terms price it; null where there is none. */
  priceOf: (terms: Terms, metal: string) => number | null;
  /** An amount of the terms' currency in the mill's; null where there is no rate. */
  told: (amount: string, currency: string) => string | null;
}): Realizable {
  const { terms, goldG, silverG } = material;
  if (terms === null) return { value: null, remark: 'no terms to sell it by' };
  if (terms.direction !== 'we-sell') return { value: null, remark: 'material of a customer' };
  if (goldG === null || silverG === null) return { value: null, remark: 'not assayed' };
  const { elements, prices: needed } = estimateNeeds(terms);
  const prices: Record<string, number> = {};
  for (const metal of needed) {
    const price = priceOf(terms, metal);
    if (price === null)
      return { value: null, remark: `no quotation of ${metal} as ${terms.title} prices it` };
    prices[metal] = price;
  }
  const estimated = compileEstimate(terms)({
    ...parcelOf(material, terms, goldG, silverG, elements),
    prices,
  });
  const worth = estimated.netValue;
  if (!Number.isFinite(worth))
    return { value: null, remark: `${terms.title} cannot be estimated without more assays` };
  const booked = told(roundedText(new Dec(worth), halfUp(2)), terms.currency);
  if (booked === null) return { value: null, remark: `no exchange rate of ${terms.currency}` };
  return { value: lessCostToComplete(booked, material.costToComplete), remark: `by ${terms.title}` };
}

/** What something sells for less what has still to be spent on it, to the cent, never below zero. IAS 2 Inventories §6. */
export function lessCostToComplete(sellsFor: string, costToComplete: number | string): string {
  return roundedText(Dec.max(0, new Dec(sellsFor).minus(costToComplete)), halfUp(2));
}

/** The lower of cost and net realizable value; cost where that cannot be told. IAS 2 Inventories §9. */
export function lowerOf(cost: string, netRealizable: string | null): string {
  return netRealizable !== null && new Dec(cost).greaterThan(netRealizable) ? netRealizable : cost;
}

function parcelOf(
  { wetMassKg, dryMassKg }: SaleableMaterial,
  terms: Terms,
  goldG: number,
  silverG: number,
  elements: readonly string[],
): Omit<EstimateParcel, 'prices'> {
  const isDore = terms.weights.kind === 'melt';
  const looksDore = (goldG + silverG) / 1000 > 0.3 * dryMassKg;
  const barKg = (goldG + silverG) / DORE_FINENESS / 1000;
  const [wet, dry] = isDore && !looksDore ? [barKg, barKg] : [wetMassKg, dryMassKg];
  const perKg = dry > 0 ? 1000 / dry : 0;
  return {
    wetMassKg: wet,
    dryMassKg: dry,
    assays: {
      ...Object.fromEntries(elements.map((element) => [element, 0])),
      Au: goldG * perKg,
      Ag: silverG * perKg,
    },
  };
}
