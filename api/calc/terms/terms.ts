import type { RoundingRule } from '../rounding.ts';
import type { AssayRule } from './assay-terms.ts';
import type { Charge, Credit, Penalty, Royalty, TaxTerms } from './charge-terms.ts';
import type { MetalTerms } from './metal-terms.ts';
import type { DayCount } from '../calendar.ts';
import type { EventName, MassBasis, MassUnit } from './term-units.ts';

/**
 * A buyer's contract as data. Every decimal value is a plain decimal text
 * ('0.97'), so that nothing is lost on the way; fractions are 0 to 1. Amounts of
 * a settlement are always what the buyer owes the seller, whichever side we are.
 */
export interface Terms {
  title: string;
  /** We sell to the other party; we buy from them; or we treat their material for a charge. */
  direction: 'we-sell' | 'we-buy' | 'we-toll';
  material: 'concentrate' | 'dore' | 'by-product';
  /** Three letters (ISO 4217), the currency every amount is worked in. */
  currency: string;
  factors: ContractFactors;
  weights: WeightTerms;
  /** Smallest and largest parcel the buyer takes; null where not limited. */
  acceptance: { basis: MassBasis; unit: MassUnit; minimum: string | null; maximum: string | null } | null;
  valuation: Valuation;
  /** 'metal': payable metal is returned as metal, only charges are money. */
  settledIn: 'money' | 'metal';
  /** The mill's part of the payable metal under a toll agreement, '0' without one. */
  tollShareFrac: string;
  assays: AssayRule[];
  metals: MetalTerms[];
  charges: Charge[];
  /** Least sum of all charges of one settlement (refining of metals included); null where none. */
  minimumCharges: string | null;
  penalties: Penalty[];
  credits: Credit[];
  royalties: Royalty[];
  /** Absent where none is reckoned. */
  taxes?: TaxTerms[];
  /** Where a dated exchange rate is needed: for a currency other than the contract's. */
  exchangeRates: ExchangeRateTerms[];
  /** The currency the total is paid in, where it is another; null otherwise. */
  paidIn: string | null;
  provisional: AdvanceTerms | null;
  secondProvisional: AdvanceTerms | null;
  /** Interest on what was advanced; null where none is charged. */
  interest: InterestTerms | null;
  payment: PaymentTerms[];
  rounding: RoundingTerms;
}

/** Conversions a contract may fix for itself; the plain defaults are in `starting-terms.ts`. */
export interface ContractFactors {
  /** Grams in a troy ounce: 31.1034768, contracts often 31.1035. */
  ounceG: string;
  /** Pounds in a tonne: 2204.62262, contracts often 2204.62. */
  poundsPerTonne: string;
  /** Short tons in a tonne: 1.10231131, contracts often 1.1023. */
  shortTonsPerTonne: string;
  /** Long tons in a tonne: 0.98420653. */
  longTonsPerTonne: string;
}

export type WeightTerms =
  /** Gross less tare is wet, less moisture is dry, less franchise is the settlement mass. */
  | { kind: 'dry'; unit: MassUnit; franchiseFrac: string }
  /** Bars: the mass of record is the one after melting, or as received. */
  | {
      kind: 'melt';
      unit: MassUnit;
      massOfRecord: 'after-melting' | 'received';
      meltLossLimitFrac: string | null;
    };

/**
 * Payable metal × price for the lot; or a value per tonne, rounded, × the
 * settlement mass. `totalPerTonne`: the values per tonne are netted first and
 * only the net is multiplied, so a line may carry the cents between the two.
 */
export type Valuation =
  { kind: 'payable-metal' } | { kind: 'per-tonne'; unit: MassUnit; totalPerTonne: boolean };

export interface ExchangeRateTerms {
  currency: string;
  /** The rate of this day, or the latest before it. */
  rateOn: EventName;
  source: string;
}

export interface AdvanceTerms {
  shareFrac: string;
  /** Share of the net value, or of the payable value with all charges taken in full. */
  of: 'net-value' | 'payable-value';
}

export interface InterestTerms {
  rateFrac: string;
  dayCount: DayCount;
  period: { kind: 'until'; event: EventName } | { kind: 'days'; days: number };
}

export interface PaymentTerms {
  stage: SettlementStage;
  days: number;
  dayKind: 'calendar' | 'business';
  after: EventName;
}

export type SettlementStage = 'provisional' | 'second-provisional' | 'final';

/** How each kind of figure is rounded before it is used further. Assays are rounded by their own rule. */
export interface RoundingTerms {
  /** In the unit of the weights. */
  mass: RoundingRule;
  /** In percent. */
  moisture: RoundingRule;
  /** In the unit of the metal's assay. */
  payableGrade: RoundingRule;
  /** Metal contained and payable metal, unless the metal has its own rule. */
  payableMetal: RoundingRule;
  price: RoundingRule;
  perTonneValue: RoundingRule;
  money: RoundingRule;
}
