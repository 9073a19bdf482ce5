import type { RoundingRule } from '../rounding.ts';
import type { EventName, PriceUnit } from './term-units.ts';
import type { Escalator } from './charge-terms.ts';

/** What is paid for one metal. Deductions and grades are in the unit of the metal's assay rule. */
export interface MetalTerms {
  metal: string;
  form: PayableForm;
  /** Below this assay nothing is paid for the metal; null where not limited. */
  minimumGrade: string | null;
  /** However it is reckoned, at least so much of the assay is not paid; absent or null where not agreed. */
  minimumDeduction?: string | null;
  /** The form is applied to the grade, or to the metal contained (mass × grade, rounded first). */
  order: 'grade' | 'content';
  price: PriceTerms;
  refining: RefiningTerms | null;
  /** Rounding of contained and payable metal; null takes the contract's. */
  rounding: RoundingRule | null;
}

/** A is the assay, p the paid fraction, d the deduction. Never below zero. */
export type SimplePayableForm =
  /** The lesser of p × A and A − d. */
  | { kind: 'lesser-of'; paidFrac: string; deduction: string }
  /** (A − d) × p. */
  | { kind: 'unit-then-percent'; paidFrac: string; deduction: string }
  /** p × A − d. */
  | { kind: 'percent-then-unit'; paidFrac: string; deduction: string };

export type PayableForm =
  | SimplePayableForm
  /**
   * The whole grade is paid by the form of the last step reached; below the first nothing. `by` names
   * another element whose assay chooses the step (gold paid by the copper grade); absent or null: its own.
   */
  | { kind: 'steps'; by?: string | null; steps: { fromGrade: string; form: SimplePayableForm }[] }
  | SlidingForm
  /** Each part of the grade is paid at the fraction of its own band; below the first nothing. */
  | { kind: 'bands'; bands: { fromGrade: string; paidFrac: string }[] };

/**
 * A simple form one figure of which slides with a grade: it changes by `change` for every `step`
 * of the grade above `fromGrade`, and the other way below it, within `minimum` and `maximum`.
 */
export interface SlidingForm {
  kind: 'sliding';
  form: SimplePayableForm;
  /** The fraction paid, or the deduction in the unit of the metal's assay. */
  slides: 'paidFrac' | 'deduction';
  /** Element whose assay it slides with; null for the metal itself. */
  by: string | null;
  fromGrade: string;
  step: string;
  change: string;
  counting: 'pro-rata' | 'whole-steps';
  minimum: string | null;
  maximum: string | null;
}

export interface PriceTerms {
  /** The price is per one of this. */
  unit: PriceUnit;
  /** Currency of the quotation where it is not the contract's; null otherwise. */
  currency: string | null;
  basis: PriceBasis;
  /** Part of the price that is paid, '1' for all of it. */
  paidFrac: string;
  /** Amount taken off each unit of price, '0' for none. */
  reduction: string;
  /**
   * Least and greatest quoted price that is paid for, per unit in the contract's currency, before the part
   * paid and the reductions; absent or null where not limited. Escalators and royalties follow the quoted price.
   */
  floor?: string | null;
  cap?: string | null;
}

export type PriceBasis =
  | { kind: 'fixed'; price: string }
  /** Fixed by the contract for steps of the metal's own assay; below the first nothing is paid for it. */
  | { kind: 'by-grade'; steps: { fromGrade: string; price: string }[] }
  | QuotedBasis
  /** Several quotations or periods, each with the part of it that counts; the rule says which is the price. */
  | { kind: 'choice'; rule: PriceChoice; options: QuotedOption[] };

export interface QuotedBasis {
  kind: 'quotations';
  /** What is quoted, in words, as the contract names it. */
  source: string;
  period: QuotationalPeriod;
  /** What stands in while the period is not over: the latest, or the mean of the last so many. */
  provisional: { kind: 'latest' } | { kind: 'mean-of-last'; quotations: number };
}

/** A quoted basis among others to choose from, and the part of it that counts, '1' for all. */
export interface QuotedOption extends QuotedBasis {
  paidFrac: string;
}

/** The lowest, the highest or the mean of all; or the one that a party declares. */
export type PriceChoice = 'lowest' | 'highest' | 'mean' | 'seller-option' | 'buyer-option';

export type QuotationalPeriod =
  /** The calendar month `monthsAfter` after the month of the event (0 the month itself). */
  | { kind: 'calendar-month'; event: EventName; monthsAfter: number }
  /** The Monday-to-Sunday week `weeksAfter` after the week of the event. */
  | { kind: 'calendar-week'; event: EventName; weeksAfter: number }
  /** From the business day `from` to the business day `to`, counted from the event; negative is before, 0 the day itself or the next business day. */
  | { kind: 'business-days'; event: EventName; from: number; to: number; holidays: string[] }
  /** From so many calendar days after the event to so many. */
  | { kind: 'calendar-days'; event: EventName; from: number; to: number }
  | { kind: 'dates'; from: string; to: string };

export interface RefiningTerms {
  /** A charge on each unit of payable metal, or taken off the price. The unit is the price's. */
  kind: 'per-payable-unit' | 'price-reduction';
  rate: string;
  escalators: Escalator[];
}
