import { Dec } from '../money.ts';
import type { Charge, Royalty } from './charge-terms.ts';
import { convert, massConversion, type Conversion } from './conversion.ts';
import {
  assayGetter,
  compileBracket,
  compileEscalators,
  compileForm,
  compileLadder,
  massGetter,
  metalFactor,
  num,
  priceGetter,
  type EstimateParcel,
  type FromParcel,
} from './estimate-parts.ts';
import type { Terms } from './terms.ts';

export type { EstimateParcel } from './estimate-parts.ts';

/** What a parcel would bring; plain floating-point figures, never booked. */
export interface ParcelEstimate {
  goldPayableOzt: number;
  silverPayableOzt: number;
  /** Payable metal (returned metal at its price) and credits. */
  paymentValue: number;
  /** Charges, refining, penalties and royalties that the buyer withholds, as a positive number. */
  deductionsValue: number;
  netValue: number;
  /** Some element is above its refusal level: the values stand, but the buyer may refuse. */
  refused: boolean;
}

/** Elements and metal prices a parcel must state; one that is missing makes the estimate NaN. */
export function estimateNeeds(terms: Terms): { elements: string[]; prices: string[] } {
  const elements = [
    ...terms.metals.map((m) => m.metal),
    ...terms.penalties.flatMap((p) => p.elements),
    ...terms.credits.flatMap((c) => (c.kind === 'component' ? c.elements : [])),
  ];
  const prices = terms.metals.filter((m) => m.price.basis.kind !== 'fixed').map((m) => m.metal);
  return { elements: [...new Set(elements)], prices };
}

/**
 * Compiles a contract for Monte Carlo: the final settlement without rounding, interest,
 * advances, umpire costs or earlier royalty bases. It equals `settle` up to the rounding
 * of the terms. Prices are in the contract's currency; `exchangeRates` gives units of it
 * for one of each foreign currency that charges are written in.
 */
export function compileEstimate(
  terms: Terms,
  { exchangeRates = {} }: { exchangeRates?: Record<string, number> } = {},
): (parcel: EstimateParcel) => ParcelEstimate {
  const metals = terms.metals.map((metal) => compileMetal(terms, metal.metal));
  const refining = metals.map((metal) => metal.refining);
  const charges = terms.charges.map((charge) => compileCharge(terms, charge, exchangeRates));
  const penalties = terms.penalties.map((clause) => compileComponent(terms, clause));
  const refusals = terms.penalties.map((clause) => ({
    level: levelGetter(terms, clause),
    above: clause.refusedAbove === null ? Infinity : num(clause.refusedAbove),
  }));
  const credits = terms.credits.map((credit) => compileCredit(terms, credit));
  const royalties = terms.royalties
    .filter((royalty) => royalty.paidBy === 'buyer-withholds')
    .map((royalty) => compileRoyalty(terms, royalty, metals));
  const minimum = terms.minimumCharges === null ? -Infinity : num(terms.minimumCharges);
  return (parcel) => {
    let payable = 0;
    let gold = 0;
    let silver = 0;
    let charged = 0;
    for (let i = 0; i < metals.length; i += 1) {
      const metal = metals[i]!;
      const mass = metal.mass(parcel);
      if (mass !== 0) payable += mass * metal.netPrice(parcel);
      charged += mass === 0 ? 0 : mass * refining[i]!(parcel);
      if (metal.symbol === 'Au') gold = mass * metal.toOzt;
      if (metal.symbol === 'Ag') silver = mass * metal.toOzt;
    }
    for (const charge of charges) charged += charge(parcel, payable);
    charged = Math.max(charged, minimum);
    let penalty = 0;
    for (const clause of penalties) penalty += clause(parcel);
    let credit = 0;
    for (const clause of credits) credit += clause(parcel);
    let royalty = 0;
    for (const clause of royalties) royalty += clause(parcel, payable + credit, charged + penalty);
    let refused = false;
    for (const refusal of refusals) if (refusal.level(parcel) > refusal.above) refused = true;
    const paymentValue = payable + credit;
    const deductionsValue = charged + penalty + royalty;
    return {
      goldPayableOzt: gold,
      silverPayableOzt: silver,
      paymentValue,
      deductionsValue,
      netValue: paymentValue - deductionsValue,
      refused,
    };
  };
}

interface CompiledMetal {
  symbol: string;
  /** Payable metal in the unit of its price, after any toll share. */
  mass: FromParcel;
  contained: FromParcel;
  netPrice: FromParcel;
  refining: FromParcel;
  toOzt: number;
}

function compileMetal(terms: Terms, symbol: string): CompiledMetal {
  const metal = terms.metals.find((m) => m.metal === symbol)!;
  const rule = terms.assays.find((r) => r.element === symbol);
  const unit = rule?.unit ?? 'g/t';
  const assay = assayGetter(terms, symbol, unit);
  const settlement = massGetter(terms, 'settlement', 'kg');
  const factor = metalFactor(terms, 'kg', unit, metal.price.unit);
  const form = compileForm(metal.form);
  const keep = 1 - num(terms.tollShareFrac);
  const least = metal.minimumGrade === null ? -Infinity : num(metal.minimumGrade);
  const quoted = priceGetter(terms, symbol);
  const paidFrac = num(metal.price.paidFrac);
  const reduction = num(metal.price.reduction);
  const { refining } = metal;
  const change = compileEscalators(terms, refining?.escalators ?? []);
  const rate: FromParcel = (parcel) => (refining === null ? 0 : num(refining.rate) + change(parcel));
  const asReduction = refining?.kind === 'price-reduction';
  const toOzt =
    metal.price.unit === 'unit' ? Number.NaN : constant(terms, massConversion(metal.price.unit, 'ozt'));
  return {
    symbol,
    contained: (parcel) => settlement(parcel) * assay(parcel) * factor,
    mass: (parcel) => {
      const grade = assay(parcel);
      // A form is proportional to its unit, so content-first and grade-first agree before rounding.
      return grade < least ? 0 : settlement(parcel) * form(grade) * factor * keep;
    },
    netPrice: (parcel) => quoted(parcel) * paidFrac - reduction - (asReduction ? rate(parcel) : 0),
    refining: asReduction ? () => 0 : rate,
    toOzt,
  };
}

function constant(terms: Terms, conversion: Conversion): number {
  return convert(new Dec(1), conversion, terms.factors).toNumber();
}

function exchanged(terms: Terms, currency: string | null, rates: Record<string, number>): number {
  return currency === null || currency === terms.currency ? 1 : (rates[currency] ?? Number.NaN);
}

function compileCharge(
  terms: Terms,
  charge: Charge,
  rates: Record<string, number>,
): (parcel: EstimateParcel, payable: number) => number {
  const exchange = exchanged(terms, charge.currency, rates);
  switch (charge.kind) {
    case 'per-mass': {
      const mass = massGetter(terms, charge.basis, charge.unit);
      const change = compileEscalators(terms, charge.escalators);
      const rate = num(charge.rate) * exchange;
      const least = charge.minimum === null ? -Infinity : num(charge.minimum) * exchange;
      return (parcel) => Math.max(least, mass(parcel) * (rate + change(parcel)));
    }
    case 'flat': {
      const amount = num(charge.amount) * exchange;
      const limit = charge.onlyBelow === null ? Infinity : num(charge.onlyBelow.mass);
      const mass =
        charge.onlyBelow === null
          ? () => -Infinity
          : massGetter(terms, charge.onlyBelow.basis, charge.onlyBelow.unit);
      const perPiece = charge.per === 'piece';
      return (parcel) => (mass(parcel) >= limit ? 0 : perPiece ? amount * (parcel.pieces ?? 1) : amount);
    }
    case 'per-started-lot': {
      const mass = massGetter(terms, charge.basis, charge.unit);
      const size = num(charge.mass);
      const amount = num(charge.amount) * exchange;
      return (parcel) => Math.ceil(mass(parcel) / size - 1e-9) * amount;
    }
    case 'by-value': {
      const mass = massGetter(terms, charge.basis, charge.unit);
      const bracket = compileBracket(charge.brackets);
      return (parcel, payable) => mass(parcel) * bracket(payable / mass(parcel)) * exchange;
    }
    case 'share-of-value': {
      const share = num(charge.shareFrac) * num(charge.ofFrac);
      const least = charge.minimum === null ? -Infinity : num(charge.minimum) * exchange;
      return (_parcel, payable) => Math.max(least, payable * share);
    }
  }
}

function levelGetter(
  terms: Terms,
  clause: { elements: string[]; unit: Parameters<typeof assayGetter>[2] },
): FromParcel {
  const assays = clause.elements.map((element) => assayGetter(terms, element, clause.unit));
  return (parcel) => {
    let level = 0;
    for (const assay of assays) level += assay(parcel);
    return level;
  };
}

function compileComponent(terms: Terms, clause: Terms['penalties'][number]): FromParcel;
function compileComponent(
  terms: Terms,
  clause: Extract<Terms['credits'][number], { kind: 'component' }>,
): FromParcel;
function compileComponent(
  terms: Terms,
  clause: Omit<Terms['penalties'][number], 'refusedAbove'>,
): FromParcel {
  const level = levelGetter(terms, clause);
  const ladder = compileLadder(clause.ladder);
  const mass = massGetter(terms, clause.basis, clause.massUnit);
  return (parcel) => mass(parcel) * ladder(level(parcel));
}

function compileCredit(terms: Terms, credit: Terms['credits'][number]): FromParcel {
  if (credit.kind === 'component') return compileComponent(terms, credit);
  if (credit.kind === 'per-mass') {
    const mass = massGetter(terms, credit.basis, credit.massUnit);
    const rate = num(credit.rate);
    return (parcel) => mass(parcel) * rate;
  }
  const mass = massGetter(terms, 'settlement', credit.massUnit);
  const parts = credit.metals.map((symbol) => {
    const unit = terms.assays.find((r) => r.element === symbol)?.unit ?? 'g/t';
    const priceUnit = terms.metals.find((m) => m.metal === symbol)?.price.unit ?? 'ozt';
    const factor = metalFactor(terms, credit.massUnit, unit, priceUnit);
    return { assay: assayGetter(terms, symbol, unit), price: priceGetter(terms, symbol), factor };
  });
  const above = num(credit.above);
  const share = num(credit.shareFrac);
  return (parcel) => {
    let value = 0;
    for (const part of parts) value += part.assay(parcel) * part.factor * part.price(parcel);
    return mass(parcel) * Math.max(0, value - above) * share;
  };
}

function compileRoyalty(
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
