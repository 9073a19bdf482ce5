import type { Charge, Credit, Penalty, Royalty } from './charge-terms.ts';
import { compileCharge, compileComponent, compileCredit } from './estimate-clauses.ts';
import type { CompiledMetal } from './estimate-metals.ts';
import { massGetter, num, type EstimateParcel } from './estimate-parts.ts';
import { pricedByGrade } from './price-bases.ts';
import { compileRoyalty } from './estimate-royalties.ts';
import type { Terms } from './terms.ts';

/** What a clause adds to what is owed, and what that is worked from. */
export interface DrawClause {
  amount: (parcel: EstimateParcel, value: number, deducted: number) => number;
  /** Where none of it varies the amount is the same in every draw. */
  uses: { mass: boolean; assays: readonly string[]; prices: boolean; value: boolean };
  /** Set where the amount is max(least, wetRate × wet mass + dryRate × dry mass), masses in kg. */
  perMass: { wetRate: number; dryRate: number; least: number } | null;
}

const NO_ASSAYS: readonly string[] = [];

export function chargeClause(terms: Terms, charge: Charge, rates: Record<string, number>): DrawClause {
  const amount = compileCharge(terms, charge, rates);
  const plain = charge.kind === 'per-mass' && charge.escalators.length === 0;
  const usesPrices =
    (charge.kind === 'per-mass' && !plain) || (charge.kind === 'by-level' && charge.level.kind === 'price');
  let perMass: DrawClause['perMass'] = null;
  if (plain) {
    const mass = massGetter(terms, charge.basis, charge.unit);
    const unit = { wetMassKg: 0, dryMassKg: 0, assays: {}, prices: {} };
    const exchange =
      charge.currency === null || charge.currency === terms.currency
        ? 1
        : (rates[charge.currency] ?? Number.NaN);
    const rate = num(charge.rate) * exchange;
    perMass = {
      wetRate: rate * mass({ ...unit, wetMassKg: 1 }),
      dryRate: rate * mass({ ...unit, dryMassKg: 1 }),
      least: charge.minimum === null ? -Infinity : num(charge.minimum) * exchange,
    };
  }
  return {
    amount,
    perMass,
    uses: {
      mass: charge.kind !== 'share-of-value' && !(charge.kind === 'flat' && charge.onlyBelow === null),
      assays:
        charge.kind === 'by-level' && charge.level.kind === 'grade'
          ? charge.level.elements
          : usesPrices
            ? pricedByGrade(terms)
            : NO_ASSAYS,
      prices: usesPrices,
      value: charge.kind === 'by-value' || charge.kind === 'share-of-value',
    },
  };
}

export function penaltyClause(terms: Terms, penalty: Penalty): DrawClause {
  return {
    amount: compileComponent(terms, penalty),
    uses: { mass: true, assays: penalty.elements, prices: false, value: false },
    perMass: null,
  };
}

export function creditClause(terms: Terms, credit: Credit): DrawClause {
  const assays =
    credit.kind === 'component' ? credit.elements : credit.kind === 'assay-value' ? credit.metals : NO_ASSAYS;
  return {
    amount: compileCredit(terms, credit),
    uses: { mass: true, assays, prices: credit.kind === 'assay-value', value: false },
    perMass: null,
  };
}

export function royaltyClause(terms: Terms, royalty: Royalty, metals: CompiledMetal[]): DrawClause {
  const own = royalty.base.kind === 'own-price';
  return {
    amount: compileRoyalty(terms, royalty, metals),
    uses: {
      mass: own,
      assays: own ? metals.map((metal) => metal.symbol) : pricedByGrade(terms),
      prices: own || royalty.rate.kind === 'price-steps',
      value: !own,
    },
    perMass: null,
  };
}
