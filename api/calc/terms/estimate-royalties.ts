import type { Royalty } from './charge-terms.ts';
import type { CompiledMetal } from './estimate-metals.ts';
import { compileBracket, compileLadder, num, priceGetter, type EstimateParcel } from './estimate-parts.ts';
import type { Terms } from './terms.ts';

/** A royalty as a function of the parcel, its gross value and what is deducted from it. */
export function compileRoyalty(
  terms: Terms,
  royalty: Royalty,
  metals: CompiledMetal[],
): (parcel: EstimateParcel, gross: number, deducted: number) => number {
  const exempt = royalty.exemption === null ? 0 : num(royalty.exemption);
  const { base } = royalty;
  const own =
    base.kind !== 'own-price'
      ? []
      : base.metals.map((entry) => {
          const metal = metals.find((m) => m.symbol === entry.metal)!;
          const fixed = entry.price === null ? null : num(entry.price);
          const quoted = priceGetter(terms, entry.metal);
          const mass = entry.mass === 'payable' ? metal.mass : metal.contained;
          return (parcel: EstimateParcel) => mass(parcel) * (fixed ?? quoted(parcel));
        });
  const rate = compileRoyaltyRate(terms, royalty);
  return (parcel, gross, deducted) => {
    let value = 0;
    if (base.kind === 'gross-value') value = gross;
    else if (base.kind === 'net-smelter-return') value = gross - deducted;
    else for (const part of own) value += part(parcel);
    return rate(Math.max(0, value - exempt), parcel);
  };
}

function compileRoyaltyRate(
  terms: Terms,
  { rate }: Royalty,
): (taxed: number, parcel: EstimateParcel) => number {
  if (rate.kind === 'flat') {
    const frac = num(rate.rateFrac);
    return (taxed) => taxed * frac;
  }
  if (rate.kind === 'price-steps') {
    const price = priceGetter(terms, rate.metal);
    const bracket = compileBracket({
      kind: 'bracket',
      brackets: rate.steps.map((s) => ({ from: s.from, reachedAt: 'level', rate: s.rateFrac })),
    });
    return (taxed, parcel) => taxed * bracket(price(parcel));
  }
  const ladder = compileLadder({
    kind: 'marginal',
    counting: 'pro-rata',
    bands: rate.bands.map((band) => ({ from: band.from, step: '1', rate: band.rateFrac })),
  });
  return (taxed) => ladder(taxed);
}
