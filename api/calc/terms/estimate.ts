import { choosingElements } from './choosing-elements.ts';
import { compileCharge, compileComponent, compileCredit, levelGetter } from './estimate-clauses.ts';
import { compileMetal } from './estimate-metals.ts';
import { num, type EstimateParcel } from './estimate-parts.ts';
import { isQuoted } from './price-bases.ts';
import { compileTaxes } from './estimate-taxes.ts';
import { compileRoyalty } from './estimate-royalties.ts';
import type { Terms } from './terms.ts';

export type { EstimateParcel } from './estimate-parts.ts';

/** What a parcel would bring; plain floating-point figures, never booked. */
export interface ParcelEstimate {
  goldPayableOzt: number;
  silverPayableOzt: number;
  /** Payable metal (returned metal at its price) and credits. */
  paymentValue: number;
  /** Charges, refining, penalties, royalties that the buyer withholds and taxes that are not passed on, as a positive number. */
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
    ...choosingElements(terms),
  ];
  const prices = terms.metals.filter((m) => isQuoted(m.price.basis)).map((m) => m.metal);
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
  const metals = terms.metals.map((metal) => compileMetal(terms, metal));
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
  const taxes = compileTaxes(terms);
  const minimum = terms.minimumCharges === null ? -Infinity : num(terms.minimumCharges);
  return (parcel) => {
    taxes.begin();
    let payable = 0;
    let gold = 0;
    let silver = 0;
    let charged = 0;
    for (let i = 0; i < metals.length; i += 1) {
      const metal = metals[i]!;
      const mass = metal.mass(parcel);
      if (mass !== 0) payable += mass * metal.netPrice(parcel);
      const refined = mass === 0 ? 0 : mass * refining[i]!(parcel);
      taxes.refining(refined);
      charged += refined;
      if (metal.symbol === 'Au') gold = mass * metal.toOzt;
      if (metal.symbol === 'Ag') silver = mass * metal.toOzt;
    }
    for (const [index, charge] of charges.entries()) {
      const amount = charge(parcel, payable);
      taxes.charge(index, amount);
      charged += amount;
    }
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
    const worked = paymentValue - charged - penalty - royalty;
    const deductionsValue =
      charged + penalty + royalty + taxes.due({ payable, net: worked, charges: charged });
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
