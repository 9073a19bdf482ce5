import type { GradeUnit, MassBasis, MassUnit } from './term-units.ts';

/**
 * A rate that grows in steps above a level. In each band the rate counts for
 * every `step` (or part of it) between the band's own level and the next band's.
 */
export interface MarginalLadder {
  kind: 'marginal';
  counting: 'pro-rata' | 'whole-steps' | 'started-steps';
  bands: { from: string; step: string; rate: string }[];
}

/** One rate for the whole, that of the last bracket reached; below the first nothing. */
export interface BracketLadder {
  kind: 'bracket';
  /** `reachedAt`: the bracket begins at its level, or only above it. */
  brackets: { from: string; reachedAt: 'level' | 'above'; rate: string }[];
}

/** A rate that grows in steps as the level falls below; bands in falling order. */
export interface ShortfallLadder {
  kind: 'shortfall';
  counting: 'pro-rata' | 'whole-steps' | 'started-steps';
  bands: { from: string; step: string; rate: string }[];
}

export type Ladder = MarginalLadder | ShortfallLadder | BracketLadder;

/**
 * Change of a charge with a metal's price: `up` adds for the price above its
 * levels, `down` takes away for the price below its levels.
 */
export interface Escalator {
  metal: string;
  up: MarginalLadder | null;
  down: ShortfallLadder | null;
  /** Greatest increase and decrease of the rate; null where not limited. */
  maximumIncrease: string | null;
  maximumDecrease: string | null;
}

export type ChargePurpose =
  | 'treatment'
  | 'refining'
  | 'lot'
  | 'sampling'
  | 'assaying'
  | 'representation'
  | 'freight'
  | 'insurance'
  | 'handling'
  | 'other';

interface ChargeName {
  purpose: ChargePurpose;
  /** As the contract calls it. */
  name: string;
  /** Currency of the rate where it is not the contract's; null otherwise. */
  currency: string | null;
}

/** So much per unit of mass, at least `minimum`, with escalators. */
export interface PerMassCharge extends ChargeName {
  kind: 'per-mass';
  rate: string;
  basis: MassBasis;
  unit: MassUnit;
  minimum: string | null;
  escalators: Escalator[];
}

/** A fixed amount for the parcel or for each sublot or bar, always or only below a mass. */
export interface FlatCharge extends ChargeName {
  kind: 'flat';
  amount: string;
  per: 'parcel' | 'piece';
  onlyBelow: { basis: MassBasis; unit: MassUnit; mass: string } | null;
}

/** A fixed amount for every lot of that mass, a started lot counted whole. */
export interface PerStartedLotCharge extends ChargeName {
  kind: 'per-started-lot';
  amount: string;
  basis: MassBasis;
  unit: MassUnit;
  mass: string;
}

/** So much per unit of mass, by the payable value per unit of the same mass. */
export interface ByValueCharge extends ChargeName {
  kind: 'by-value';
  brackets: BracketLadder;
  basis: MassBasis;
  unit: MassUnit;
}

/** A share of a share of the payable value, as insurance of 0.06 % of 110 %. */
export interface ShareOfValueCharge extends ChargeName {
  kind: 'share-of-value';
  shareFrac: string;
  ofFrac: string;
  minimum: string | null;
}

/** So much per unit of mass, by the grade of one or more elements together, the quoted price of a metal, or the mass of the parcel. */
export interface ByLevelCharge extends ChargeName {
  kind: 'by-level';
  level:
    | { kind: 'grade'; elements: string[]; unit: GradeUnit }
    | { kind: 'price'; metal: string }
    | { kind: 'mass'; basis: MassBasis; unit: MassUnit };
  ladder: Ladder;
  basis: MassBasis;
  unit: MassUnit;
  minimum: string | null;
}

export type Charge =
  PerMassCharge | FlatCharge | PerStartedLotCharge | ByValueCharge | ByLevelCharge | ShareOfValueCharge;

/** A sales tax or value added tax, or a tax that the buyer withholds: a line of its own after the net value. */
export interface TaxTerms {
  name: string;
  rateFrac: string;
  base: TaxBase;
  /** Paid to the seller beside the value, or taken off what is paid. */
  effect: 'added' | 'deducted';
  /** Passed on to the tax office or claimed back from it: no gain and no cost of ours when options are compared. */
  isPassedOn: boolean;
}

export type TaxBase =
  | { kind: 'payable-value' }
  /** Payable value and credits less charges, penalties and royalties. */
  | { kind: 'net-value' }
  /** All charges, or those for these purposes. */
  | { kind: 'charges'; purposes: ChargePurpose[] };

/**
 * A deduction for unwanted elements, worked on the sum of their assays in `unit`.
 * H2O is the moisture of the weights, in percent, and needs no assay.
 */
export interface Penalty {
  name: string;
  elements: string[];
  unit: GradeUnit;
  /** Levels in `unit`, rates in money per `massUnit` of `basis`. */
  ladder: Ladder;
  basis: MassBasis;
  massUnit: MassUnit;
  /** Above this the buyer may refuse the parcel; null where not limited. */
  refusedAbove: string | null;
}

export type Credit =
  /** A wanted component, reckoned as a penalty is, but paid. */
  | {
      kind: 'component';
      name: string;
      elements: string[];
      unit: GradeUnit;
      ladder: Ladder;
      basis: MassBasis;
      massUnit: MassUnit;
    }
  /** So much per unit of mass whatever the grade. */
  | { kind: 'per-mass'; name: string; rate: string; basis: MassBasis; massUnit: MassUnit }
  /** A share of the value of the metals contained, per unit of mass, above a level. */
  | {
      kind: 'assay-value';
      name: string;
      metals: string[];
      above: string;
      shareFrac: string;
      massUnit: MassUnit;
    };

export interface Royalty {
  name: string;
  kind: 'royalty' | 'production-tax';
  base: RoyaltyBase;
  rate: RoyaltyRate;
  /** Part of the base that is free; null where none. Counted against the base of earlier settlements too. */
  exemption: string | null;
  /** Deducted by the buyer on the statement, or due from us and only shown. */
  paidBy: 'buyer-withholds' | 'seller-pays';
  /** How it is divided; empty for one undivided line. Shares are relative. */
  payees: { name: string; share: string }[];
}

export type RoyaltyBase =
  /** Payable value and credits less charges and penalties. */
  | { kind: 'net-smelter-return' }
  /** Payable value and credits. */
  | { kind: 'gross-value' }
  /** The contract's own: metal contained or payable × a fixed price or the quoted one (null). */
  | { kind: 'own-price'; metals: { metal: string; mass: 'contained' | 'payable'; price: string | null }[] };

export type RoyaltyRate =
  | { kind: 'flat'; rateFrac: string }
  /** Each part of the base at the rate of its own band, the base of earlier settlements counted first. */
  | { kind: 'bands'; bands: { from: string; rateFrac: string }[] }
  /** One rate, by the quoted price of a metal; below the first nothing. */
  | { kind: 'price-steps'; metal: string; steps: { from: string; rateFrac: string }[] };
