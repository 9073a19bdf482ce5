import type { RoundingRule } from '../rounding.ts';
import type { GradeUnit } from './term-units.ts';

/** How the assay of one element is settled, and in what unit the contract speaks of it. */
export interface AssayRule {
  element: string;
  unit: GradeUnit;
  rounding: RoundingRule;
  settledBy: AssaySettlement;
}

export type AssaySettlement =
  | { kind: 'seller' }
  | { kind: 'buyer' }
  | { kind: 'mean' }
  | {
      kind: 'exchange';
      /**
       * Results that differ by no more than the limit are averaged. The limit of
       * the last band whose `fromGrade` the mean of both results reaches is used.
       */
      splittingLimits: SplittingLimit[];
      umpire: UmpireTerms;
      /** A party that does not exchange in time is bound by the other's result. */
      absentPartyBound: boolean;
    };

export interface SplittingLimit {
  fromGrade: string;
  /** In the unit of the rule; '0' where only the relative one is agreed. */
  limit: string;
  /** A part of the mean of both results: the greater of both limits counts; absent or null where not agreed. */
  relativeFrac?: string | null;
}

export type UmpireRule =
  /** Of seller's, buyer's and umpire's results the one between the other two. */
  | 'middle-of-three'
  /** Of the three results the mean of the two that lie closest together. */
  | 'mean-of-nearest-two'
  /** The mean of the umpire's result and the party's result nearer to it. */
  | 'mean-of-umpire-and-nearer'
  /** The result of the party that is nearer to the umpire. */
  | 'nearer-party';

export interface UmpireTerms {
  rule: UmpireRule;
  /** Cost of the umpire's assay in the contract's currency; null where not agreed beforehand. */
  cost: string | null;
  costBorneBy: 'further-party' | 'shared' | 'seller' | 'buyer';
  /** Who pays the umpire first; the seller's part of what the buyer advanced is deducted, and the reverse is refunded. */
  advancedBy: 'seller' | 'buyer';
}
