import type { RoundingRule } from '../../../api/calc/rounding.ts';
import type { AssaySettlement, UmpireTerms } from '../../../api/calc/terms/assay-terms.ts';
import type {
  BracketLadder,
  ByLevelCharge,
  Charge,
  Credit,
  Ladder,
  MarginalLadder,
  Royalty,
  TaxTerms,
} from '../../../api/calc/terms/charge-terms.ts';
import type {
  MetalTerms,
  PayableForm,
  PriceBasis,
  PriceChoice,
  QuotationalPeriod,
  RefiningTerms,
  SimplePayableForm,
  SlidingForm,
} from '../../../api/calc/terms/metal-terms.ts';
import type {
  EventName,
  GradeUnit,
  MassBasis,
  MassUnit,
  PriceUnit,
} from '../../../api/calc/terms/term-units.ts';
import type {
  AdvanceTerms,
  ContractFactors,
  InterestTerms,
  PaymentTerms,
  RoundingTerms,
  Terms,
  Valuation,
  WeightTerms,
} from '../../../api/calc/terms/terms.ts';

/**
 * A contract as it is typed. Named as `Terms`, so that a pointer into what is sent
 * is a pointer into this; but every clause holds the fields of all its kinds, figures
 * are typed texts and fractions are in percent, so that changing a kind loses nothing.
 */
export interface TermsDraft extends Pick<Terms, 'title' | 'direction' | 'material' | 'settledIn'> {
  currency: string;
  factors: ContractFactors;
  weights: {
    kind: WeightTerms['kind'];
    unit: MassUnit;
    franchiseFrac: string;
    massOfRecord: 'after-melting' | 'received';
    meltLossLimitFrac: string;
  };
  acceptance: { basis: MassBasis; unit: MassUnit; minimum: string; maximum: string };
  valuation: { kind: Valuation['kind']; unit: MassUnit; totalPerTonne: boolean };
  tollShareFrac: string;
  assays: AssayDraft[];
  metals: MetalDraft[];
  charges: ChargeDraft[];
  minimumCharges: string;
  penalties: PenaltyDraft[];
  credits: CreditDraft[];
  royalties: RoyaltyDraft[];
  taxes: TaxDraft[];
  exchangeRates: { currency: string; rateOn: EventName; source: string }[];
  paidIn: string;
  provisional: AdvanceDraft;
  secondProvisional: AdvanceDraft;
  interest: {
    rateFrac: string;
    dayCount: InterestTerms['dayCount'];
    period: { kind: InterestTerms['period']['kind']; event: EventName; days: string };
  };
  payment: (Omit<PaymentTerms, 'days'> & { days: string })[];
  rounding: Record<keyof RoundingTerms, RoundingDraft>;
}

export interface RoundingDraft {
  decimals: string;
  rule: RoundingRule['rule'];
  multipleOf: string;
}

/** No advance is made where the share is empty. */
export interface AdvanceDraft {
  shareFrac: string;
  of: AdvanceTerms['of'];
}

export interface AssayDraft {
  element: string;
  unit: GradeUnit;
  rounding: RoundingDraft;
  settledBy: {
    kind: AssaySettlement['kind'];
    splittingLimits: { fromGrade: string; limit: string; relativeFrac: string }[];
    umpire: Omit<UmpireTerms, 'cost'> & { cost: string };
    absentPartyBound: boolean;
  };
}

export interface SimpleFormDraft {
  kind: SimplePayableForm['kind'];
  paidFrac: string;
  deduction: string;
}

export interface PeriodDraft {
  kind: QuotationalPeriod['kind'];
  event: EventName;
  monthsAfter: string;
  weeksAfter: string;
  from: string;
  to: string;
  fromDate: string;
  toDate: string;
  holidays: string[];
}

export interface QuotedDraft {
  source: string;
  period: PeriodDraft;
  provisional: { kind: 'latest' | 'mean-of-last'; quotations: string };
}

export interface OptionDraft extends QuotedDraft {
  paidFrac: string;
}

export interface MetalDraft {
  metal: string;
  form: {
    kind: PayableForm['kind'];
    paidFrac: string;
    deduction: string;
    steps: { fromGrade: string; form: SimpleFormDraft }[];
    bands: { fromGrade: string; paidFrac: string }[];
    /** Element that chooses the step or slides the figure; empty: the metal itself. */
    by: string;
    /** Of a sliding form. */
    form: SimpleFormDraft;
    slides: SlidingForm['slides'];
    fromGrade: string;
    step: string;
    change: string;
    counting: SlidingForm['counting'];
    minimum: string;
    maximum: string;
  };
  minimumDeduction: string;
  minimumGrade: string;
  order: MetalTerms['order'];
  price: {
    unit: PriceUnit;
    currency: string;
    basis: QuotedDraft & {
      kind: PriceBasis['kind'];
      price: string;
      /** Of a price by grade. */
      steps: { fromGrade: string; price: string }[];
      rule: PriceChoice;
      options: OptionDraft[];
    };
    paidFrac: string;
    reduction: string;
    floor: string;
    cap: string;
  };
  refining: { kind: RefiningTerms['kind'] | 'none'; rate: string; escalators: EscalatorDraft[] };
  /** Whether this metal is rounded by its own rule, not the contract's. */
  ownRounding: boolean;
  rounding: RoundingDraft;
}

export interface StepBandDraft {
  from: string;
  step: string;
  rate: string;
}

export interface BracketDraft {
  from: string;
  reachedAt: BracketLadder['brackets'][number]['reachedAt'];
  rate: string;
}

export interface LadderDraft {
  kind: Ladder['kind'];
  counting: MarginalLadder['counting'];
  bands: StepBandDraft[];
  brackets: BracketDraft[];
}

/** A side without bands is not agreed. */
export interface EscalatorSideDraft {
  counting: MarginalLadder['counting'];
  bands: StepBandDraft[];
}

export interface EscalatorDraft {
  metal: string;
  up: EscalatorSideDraft;
  down: EscalatorSideDraft;
  maximumIncrease: string;
  maximumDecrease: string;
}

export interface ChargeDraft {
  kind: Charge['kind'];
  purpose: Charge['purpose'];
  name: string;
  currency: string;
  rate: string;
  amount: string;
  basis: MassBasis;
  unit: MassUnit;
  minimum: string;
  per: 'parcel' | 'piece';
  /** Always charged where the mass is empty. */
  onlyBelow: { basis: MassBasis; unit: MassUnit; mass: string };
  mass: string;
  brackets: { brackets: BracketDraft[] };
  level: {
    kind: ByLevelCharge['level']['kind'];
    elements: string[];
    unit: GradeUnit;
    metal: string;
    /** Of a level that is the mass of the parcel. */
    basis: MassBasis;
    massUnit: MassUnit;
  };
  ladder: LadderDraft;
  shareFrac: string;
  ofFrac: string;
  escalators: EscalatorDraft[];
}

export interface PenaltyDraft {
  name: string;
  elements: string[];
  unit: GradeUnit;
  ladder: LadderDraft;
  basis: MassBasis;
  massUnit: MassUnit;
  refusedAbove: string;
}

export interface CreditDraft {
  kind: Credit['kind'];
  name: string;
  elements: string[];
  unit: GradeUnit;
  ladder: LadderDraft;
  basis: MassBasis;
  massUnit: MassUnit;
  rate: string;
  metals: string[];
  above: string;
  shareFrac: string;
}

export interface RoyaltyDraft {
  name: string;
  kind: Royalty['kind'];
  base: {
    kind: Royalty['base']['kind'];
    metals: { metal: string; mass: 'contained' | 'payable'; price: string }[];
  };
  rate: {
    kind: Royalty['rate']['kind'];
    rateFrac: string;
    bands: { from: string; rateFrac: string }[];
    metal: string;
    steps: { from: string; rateFrac: string }[];
  };
  exemption: string;
  paidBy: Royalty['paidBy'];
  payees: { name: string; share: string }[];
}

export interface TaxDraft extends Pick<TaxTerms, 'name' | 'effect' | 'isPassedOn'> {
  rateFrac: string;
  base: { kind: TaxTerms['base']['kind']; purposes: Charge['purpose'][] };
}
