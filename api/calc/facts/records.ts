import type { SaidUnits } from '../economics/options.ts';
import type { Metal } from '../evidence/lot-evidence.ts';
import type { LotRecovery } from '../evidence/recovery-history.ts';
import type { Measured } from '../measured.ts';
import type { Mineral } from '../smelting/minerals.ts';
import type { Terms } from '../terms/terms.ts';

/**
 * The records that a calculation reads, as they stand in the mill's books. The
 * schemas of the API have these shapes; here they are spelled out so that the
 * calculations depend on nothing above them.
 */
/** How the gold sits in a lot, as far as the owner knows it: what a sample's error is worked from. */
export type SamplingFacts = {
  /** Fineness of the native gold. */
  goldFrac: number;
  /** Null: from the fineness. */
  grainDensityGpml: number | null;
  /** Whether the silver is in the gold grains, so that it scatters as they do. */
  silverWithGold: boolean;
} & (
  | { model: 'coarse-gold'; grainSizeMm: number; grainShape: 'nugget' | 'flake' }
  | {
      model: 'gy';
      topSizeMm: number;
      liberationSizeMm: number;
      shapeFactor: number;
      liberationExponent: number;
    }
);

export interface LotFacts {
  id: string;
  code: string;
  moistureFrac: string;
  dryMassKg: string;
  minerals: { mineral: Mineral; massFrac: string }[];
  labAssays: {
    id: string;
    laboratory: string;
    certificate: string;
    element: string;
    unit: 'g/t' | 'percent';
    value: string;
    standardUncertainty: string | null;
    /** Sample that was sent, g. */
    sampleMassG: number | null;
  }[];
  sampling: SamplingFacts | null;
}

export interface TestSmeltFacts {
  id: string;
  sample: string;
  smeltedOn: string;
  sampleMassG: number;
  roasted: boolean;
  massBeforeRoastG: number | null;
  massAfterRoastG: number | null;
  roastHours: number | null;
  roastTempC: number | null;
  reagents: { supplyId: string; massG: number }[];
  collectorLeadG: number | null;
  ironInG: number | null;
  ironOutG: number | null;
  crucibleVolumeMl: number | null;
  buttonG: number | null;
  matteG: number | null;
  slagG: number | null;
  beadMg: number | null;
  partedGoldMg: number | null;
  /** Silver added to the bead after it was weighed. */
  inquartSilverMg: number | null;
  /** Lab assays of what the smelt gave beside the button. */
  matteGoldGpt: number | null;
  matteSilverGpt: number | null;
  slagGoldGpt: number | null;
  slagSilverGpt: number | null;
  blankMgPerLeadG: number | null;
  blankStandardUncertaintyMgPerLeadG: number | null;
  sampleBalanceId: string;
  beadBalanceId: string;
  setAsideReason: string | null;
}

export interface TrialFacts {
  id: string;
  name: string;
  treatmentId: string | null;
  smelts: TestSmeltFacts[];
}

/** Either one thing weighed again and again, or check weights of known mass. */
export interface BalanceCheckFacts {
  id: string;
  kind: 'repeat-weighing' | 'check-weights';
  checkedOn: string;
  /** A repeat weighing has no nominal mass. */
  readings: { nominalMassG: number | null; readingG: number }[];
}

export interface BalanceFacts {
  id: string;
  name: string;
  readabilityG: string;
  /** As stated by the maker or taken by the owner. */
  repeatabilityG: string;
  /** Whether the stated repeatability counts or that of the repeat weighings. */
  repeatabilityFrom: 'stated' | 'checks';
  checks: BalanceCheckFacts[];
}

/** Losses in cupelling as the mill takes them. */
export interface CupellationFacts {
  /** Not corrected for, corrected by the losses stated here, or by those that the proofs show. */
  correction: 'off' | 'stated' | 'proofs';
  goldLossFrac: number;
  goldLossStandardUncertaintyFrac: number;
  silverLossFrac: number;
  silverLossStandardUncertaintyFrac: number;
  /** Pure metal of known mass that was cupelled beside the assays. */
  proofs: {
    id: string;
    metal: 'Au' | 'Ag';
    provedOn: string;
    takenMg: number;
    foundMg: number;
    balanceId: string;
  }[];
}

export interface SupplyFacts {
  id: string;
  name: string;
  kind: 'reagent' | 'lead' | 'litharge' | 'iron' | 'fuel' | 'crucible' | 'cupel' | 'labour' | 'other';
  unit: 'kg' | 'L' | 'each' | 'h';
  /** Lead that one cupel takes up; of meaning for cupels only. */
  cupelLeadCapacityG?: number | null;
  prices: { effectiveOn: string; price: string; currency: string }[];
}

export interface TreatmentFacts {
  id: string;
  name: string;
  roast: boolean;
  recipe: { supplyId: string; gramsPerHundredG: string }[];
  chargeSizeKg: number;
  furnaceHoursPerCharge: number;
  labourHoursPerCharge: number;
  labourSupplyId: string | null;
  fuelSupplyId: string | null;
  fuelPerCharge: number;
  crucibleSupplyId: string | null;
  cupelSupplyId?: string | null;
  crucibleLifeCharges: number;
  leadReturnLowFrac: number;
  leadReturnModeFrac: number;
  leadReturnHighFrac: number;
  goldRecoveryMeanFrac: number;
  goldRecoverySdFrac: number;
  silverRecoveryMeanFrac: number;
  silverRecoverySdFrac: number;
  doreFinenessFrac: number;
  wasteCostPerKg: string;
  daysUntilBar: number;
  retired: boolean;
}

export interface TermsFacts {
  id: string;
  name: string;
  counterpartyName: string;
  body: Terms;
}

export interface QuotationFacts {
  metal: string;
  quotedOn: string;
  price: string;
  currency: string;
  unit: 'ozt' | 't' | 'lb' | 'kg' | 'g';
}

/** What the tests of one other lot say of a treatment's recoveries; null where they say nothing of a metal. */
export interface TreatmentHistoryFacts {
  treatmentId: string;
  lotCode: string;
  Au: LotRecovery | null;
  Ag: LotRecovery | null;
}

/** One of the days, lots and products that a lot was made from, with what is known of its grade. */
export interface MadeFromFacts {
  source: 'day' | 'lot' | 'product';
  /** Code of the lot or product, date of the day. */
  code: string;
  dryMassKg: string;
  /** g/t dry, inferred from its own tests and assays; null where nothing speaks of it. */
  gradeGpt: Record<Metal, Measured | null>;
  /** Lots whose tests and assays its grade rests on. */
  restsOnLots: string[];
  /** Assays that its grade rests on. */
  labAssays: LotFacts['labAssays'];
}

/** What the mill knows about a lot's metal. */
export interface EvidenceFacts {
  lot: LotFacts;
  /** The owner's; what was frozen before they were kept has none. */
  units?: SaidUnits;
  /** Facts frozen before lots were made from others have none. */
  madeFrom?: MadeFromFacts[];
  trials: TrialFacts[];
  balances: BalanceFacts[];
  cupellation: CupellationFacts;
  /** What other lots have shown of the treatments. */
  history: TreatmentHistoryFacts[];
  supplies: Pick<SupplyFacts, 'id' | 'name' | 'kind'>[];
  treatments: Pick<
    TreatmentFacts,
    | 'id'
    | 'name'
    | 'retired'
    | 'goldRecoveryMeanFrac'
    | 'goldRecoverySdFrac'
    | 'silverRecoveryMeanFrac'
    | 'silverRecoverySdFrac'
  >[];
}

/** All that a decision about a lot is worked from, as of one day. */
export interface DecisionFacts extends EvidenceFacts {
  on: string;
  currency: string;
  supplies: SupplyFacts[];
  treatments: TreatmentFacts[];
  terms: TermsFacts[];
  /** The last quotation of each metal, currency and unit on or before the day. */
  latestQuotations: QuotationFacts[];
  /** A year of gold and silver before the day, oldest first, for the spread of prices. */
  priceHistory: QuotationFacts[];
}
