import type { Estimate, EstimateParcel } from '../economics/options.ts';
import { compileEstimate } from '../terms/estimate.ts';
import type { Column } from '../terms/draw-columns.ts';
import { compileEstimateDraws } from '../terms/estimate-draws.ts';
import { isQuoted } from '../terms/price-bases.ts';
import type { PriceUnit } from '../terms/term-units.ts';
import { gramsPerPound, gramsPerTroyOunce, kgPerLongTon, kgPerShortTon } from '../units.ts';
import type { DecisionFacts, QuotationFacts, TermsFacts } from './records.ts';

/** Grams in one of what a price is for. A 'unit' is one percent of a tonne, 10 kg. */
const GRAMS_IN: Record<PriceUnit, number> = {
  g: 1,
  kg: 1000,
  ozt: gramsPerTroyOunce,
  lb: gramsPerPound,
  tonne: 1_000_000,
  'short ton': kgPerShortTon * 1000,
  'long ton': kgPerLongTon * 1000,
  unit: 10_000,
};
const GRAMS_IN_QUOTED: Record<QuotationFacts['unit'], number> = {
  g: GRAMS_IN.g,
  kg: GRAMS_IN.kg,
  ozt: GRAMS_IN.ozt,
  lb: GRAMS_IN.lb,
  t: GRAMS_IN.tonne,
};

/** The newest quotation of a metal in a currency, per `grams`; null where there is none. */
export function latestPricePer(
  quotations: readonly QuotationFacts[],
  { metal, currency, grams }: { metal: string; currency: string; grams: number },
): number | null {
  let newest: QuotationFacts | null = null;
  for (const one of quotations)
    if (
      one.metal === metal &&
      one.currency === currency &&
      (newest === null || one.quotedOn > newest.quotedOn)
    )
      newest = one;
  return newest && (Number(newest.price) * grams) / GRAMS_IN_QUOTED[newest.unit];
}

/**
 * The buyer's terms as a fast estimate that takes gold and silver prices per troy ounce and finds the prices
 * of other metals in the newest quotations. Or the faults that keep it from being worked.
 */
export function termsEstimate(terms: TermsFacts, facts: DecisionFacts): Estimate | { faults: string[] } {
  const faults: string[] = [];
  const { currency, metals, paidIn, exchangeRates } = terms.body;
  if (
    currency !== facts.currency ||
    (paidIn !== null && paidIn !== facts.currency) ||
    exchangeRates.length > 0
  )
    faults.push(
      `its terms reckon in ${[currency, ...exchangeRates.map((rate) => rate.currency)].join(' and ')}, the mill in ${facts.currency}`,
    );
  /** From a price per troy ounce to the price the terms speak of. */
  const perUnit = { Au: 1, Ag: 1 };
  const fixedPrices: Record<string, number> = {};
  for (const { metal, price } of metals) {
    const grams = GRAMS_IN[price.unit];
    if (metal === 'Au' || metal === 'Ag') perUnit[metal] = grams / gramsPerTroyOunce;
    else if (isQuoted(price.basis)) {
      const found = latestPricePer(facts.latestQuotations, {
        metal,
        currency: price.currency ?? currency,
        grams,
      });
      if (found === null)
        faults.push(
          `there is no ${price.currency ?? currency} quotation of ${metal} on or before ${facts.on}`,
        );
      else fixedPrices[metal] = found;
    }
  }
  if (faults.length > 0) return { faults };
  const one = compileEstimate(terms.body);
  const all = compileEstimateDraws(terms.body);
  const prices: Record<string, number> = { ...fixedPrices, Au: 0, Ag: 0 };
  const asTermsSpeak: EstimateParcel = { wetMassKg: 0, dryMassKg: 0, assays: {}, prices };
  const estimate: Estimate = (parcel) => {
    prices.Au = (parcel.prices.Au ?? 0) * perUnit.Au;
    prices.Ag = (parcel.prices.Ag ?? 0) * perUnit.Ag;
    asTermsSpeak.wetMassKg = parcel.wetMassKg;
    asTermsSpeak.dryMassKg = parcel.dryMassKg;
    asTermsSpeak.assays = parcel.assays;
    return one(asTermsSpeak);
  };
  const fixed = Object.entries(fixedPrices).map(([metal, price]): [string, Column] => [
    metal,
    { scale: price, values: null },
  ]);
  estimate.draws = (parcel, into) => {
    const asSpoken = (metal: 'Au' | 'Ag'): Column => {
      const { scale, values } = parcel.prices[metal] ?? { scale: 0, values: null };
      return { scale: scale * perUnit[metal], values };
    };
    return all(
      { ...parcel, prices: { ...Object.fromEntries(fixed), Au: asSpoken('Au'), Ag: asSpoken('Ag') } },
      into,
    );
  };
  return estimate;
}
