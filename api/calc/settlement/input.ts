import type { Quotation, SettlementDates } from '../terms/price-period.ts';
import type { GradeUnit } from '../terms/term-units.ts';
import type { SettlementStage, Terms } from '../terms/terms.ts';

export type { Quotation, SettlementDates };

export interface ConcentrateParcel {
  kind: 'concentrate';
  sublots: { name: string; grossKg: string; tareKg: string; moistureFrac: string }[];
}

export interface DoreParcel {
  kind: 'dore';
  bars: { name: string; receivedG: string; afterMeltG: string | null }[];
}

/** Results for one element, of the whole parcel or of one sublot or bar. */
export interface AssayInput {
  element: string;
  unit: GradeUnit;
  /** Our own result, whichever side we are on. */
  own: string | null;
  /** The other party's: the buyer's when we sell, the seller's or toll customer's when we buy or toll. */
  buyer: string | null;
  umpire: string | null;
  /** Name of the sublot or bar; null or absent for the whole parcel. */
  sublot?: string | null;
}

export interface PriceInput {
  metal: string;
  /** Per the contract's price unit, in the currency of its quotation; null where only quotations are given. */
  price: string | null;
  /** Where the price comes from, as it prints. */
  basis: string;
  quotations: Quotation[];
  /** Prices entered for single options where the contract lets one be chosen, by their place from 0. */
  options?: { option: number; price: string; basis: string }[];
  /** Place of the option that the party entitled to it has declared. */
  declaredOption?: number | null;
}

/** An amount agreed for this parcel alone, as demurrage, or what the buyer is allowed for taking it all the same. */
export interface AgreedItem {
  name: string;
  /** Signed as it counts for the seller: below zero is deducted. */
  amount: string;
  reason: string;
}

export interface ExchangeRateInput {
  /** The foreign currency. */
  currency: string;
  /** Units of the contract's currency for one of the foreign currency. */
  rate: string;
  date: string;
}

export interface PreviousPayment {
  statementNumber: string;
  /** What that statement came to; negative where the seller paid. */
  amount: string;
  /** The day of the statement, from which interest runs where no payment of it is recorded. */
  paidOn?: string | null;
  /** What was paid of it and when, in the contract's currency; absent or empty where nothing is recorded. */
  payments?: { paidOn: string; amount: string }[];
  /** Stage of that statement: only advances bear interest. Taken for an advance where not stated. */
  stage?: SettlementStage | 'adjustment';
}

export interface SettlementInput {
  terms: Terms;
  stage: SettlementStage;
  parcel: ConcentrateParcel | DoreParcel;
  assays: AssayInput[];
  prices: PriceInput[];
  exchangeRates?: ExchangeRateInput[];
  dates: SettlementDates;
  previouslyPaid: PreviousPayment[];
  agreedItems?: AgreedItem[];
  /** Bases of earlier settlements of the same period, by the name of the royalty, for exemptions and bands. */
  royaltyBasesToDate?: { name: string; amount: string }[];
}
