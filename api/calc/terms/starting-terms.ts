import { halfUp } from '../rounding.ts';
import type { ContractFactors, RoundingTerms, Terms } from './terms.ts';

/**
 * Troy ounce and pound exact by NIST Handbook 44, Appendix C (31.1034768 g,
 * 453.59237 g); the others follow from the pound, 2,000 and 2,240 to the ton,
 * written to eight decimals.
 */
export const STANDARD_FACTORS: ContractFactors = {
  ounceG: '31.1034768',
  poundsPerTonne: '2204.62262',
  shortTonsPerTonne: '1.10231131',
  longTonsPerTonne: '0.98420653',
};

/** A usual set of roundings; the contract's own go before it. */
export const USUAL_ROUNDING: RoundingTerms = {
  mass: halfUp(0),
  moisture: halfUp(2),
  payableGrade: halfUp(4),
  payableMetal: halfUp(3),
  price: halfUp(4),
  perTonneValue: halfUp(4),
  money: halfUp(2),
};

/** An empty contract to start from: nothing is paid and nothing charged until it says so. */
export function startingTerms({ title, material }: Pick<Terms, 'title' | 'material'>): Terms {
  const dore = material === 'dore';
  return {
    title,
    direction: 'we-sell',
    material,
    currency: 'USD',
    factors: STANDARD_FACTORS,
    weights: dore
      ? { kind: 'melt', unit: 'ozt', massOfRecord: 'after-melting', meltLossLimitFrac: null }
      : { kind: 'dry', unit: 'kg', franchiseFrac: '0' },
    acceptance: null,
    valuation: { kind: 'payable-metal' },
    settledIn: 'money',
    tollShareFrac: '0',
    assays: [],
    metals: [],
    charges: [],
    minimumCharges: null,
    penalties: [],
    credits: [],
    royalties: [],
    exchangeRates: [],
    paidIn: null,
    provisional: null,
    secondProvisional: null,
    interest: null,
    payment: [],
    rounding: dore ? { ...USUAL_ROUNDING, mass: halfUp(3) } : USUAL_ROUNDING,
  };
}
