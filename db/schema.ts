import type { ColumnType, Generated, JSONColumnType } from 'kysely';

/**
 * The tables as code sees them. Both drivers hand over `date`, `numeric`,
 * `int8` and `timestamptz` as strings; a query that gives a weighing to a
 * calculation turns it into a number at its own edge (see queries/numbers.ts).
 */
type NumericText = ColumnType<string, string | number, string | number>;
type NumericTextOrNull = ColumnType<string | null, string | number | null, string | number | null>;
type DateText = ColumnType<string, string, string>;
type DateTextOrNull = ColumnType<string | null, string | null, string | null>;
type TimestampText = ColumnType<string, string | undefined, string>;
type Json<T extends object> = JSONColumnType<T, string, string>;

export interface MillTable {
  id: Generated<number>;
  name: string;
  address: Generated<string>;
  currency: string;
  massUnit: 'kg' | 'lb';
  metalUnit: 'g' | 'ozt';
  gradeUnit: 'g/t' | 'oz/short ton';
  temperatureUnit: '°C' | '°F';
  paper: 'A4' | 'Letter';
  importDateOrder: 'iso' | 'day-month-year' | 'month-day-year';
  decimalComma: boolean;
  /** What the scale on the bench can show. */
  weighingStepG: ColumnType<string, string | undefined, string>;
  isDemo: boolean;
  version: Generated<number>;
}

export interface SeasonTable {
  id: string;
  name: string;
  startsOn: DateText;
  endsOn: DateText;
  version: Generated<number>;
}

export interface BalanceTable {
  id: string;
  name: string;
  readabilityG: NumericText;
  repeatabilityG: NumericText;
  repeatabilityFrom: ColumnType<'stated' | 'checks', 'stated' | 'checks' | undefined, 'stated' | 'checks'>;
  version: Generated<number>;
}

export interface BalanceCheckTable {
  id: string;
  balanceId: string;
  kind: 'repeat-weighing' | 'check-weights';
  checkedOn: DateText;
  remarks: Generated<string>;
  enteredAt: TimestampText;
}

export interface BalanceReadingTable {
  checkId: string;
  place: number;
  nominalMassG: NumericTextOrNull;
  readingG: NumericText;
}

export interface CupellationTable {
  id: Generated<number>;
  correction: 'off' | 'stated' | 'proofs';
  goldLossFrac: NumericText;
  goldLossStandardUncertaintyFrac: NumericText;
  silverLossFrac: NumericText;
  silverLossStandardUncertaintyFrac: NumericText;
  version: Generated<number>;
}

export interface CupellationProofTable {
  id: string;
  metal: 'Au' | 'Ag';
  provedOn: DateText;
  takenMg: NumericText;
  foundMg: NumericText;
  balanceId: string;
  remarks: Generated<string>;
}

export interface SupplyTable {
  id: string;
  name: string;
  kind: 'reagent' | 'lead' | 'litharge' | 'iron' | 'fuel' | 'crucible' | 'cupel' | 'labour' | 'other';
  unit: 'kg' | 'L' | 'each' | 'h';
  crucibleVolumeMl: NumericTextOrNull;
  cupelLeadCapacityG: NumericTextOrNull;
  version: Generated<number>;
}

export interface SupplyPriceTable {
  supplyId: string;
  effectiveOn: DateText;
  price: NumericText;
  currency: string;
}

export interface QuotationTable {
  metal: string;
  quotedOn: DateText;
  price: NumericText;
  currency: string;
  unit: 'ozt' | 't' | 'lb' | 'kg' | 'g';
  source: Generated<string>;
}

export interface LotTable {
  id: string;
  seasonId: string;
  code: string;
  description: Generated<string>;
  madeOn: DateText;
  wetMassKg: NumericText;
  moistureFrac: NumericText;
  remarks: Generated<string>;
  version: Generated<number>;
  createdAt: TimestampText;
}

export interface LotMineralTable {
  lotId: string;
  mineral: string;
  massFrac: NumericText;
}

export interface LotSamplingTable {
  lotId: string;
  model: 'coarse-gold' | 'gy';
  grainSizeMm: NumericTextOrNull;
  grainShape: 'nugget' | 'flake' | null;
  topSizeMm: NumericTextOrNull;
  liberationSizeMm: NumericTextOrNull;
  shapeFactor: NumericTextOrNull;
  liberationExponent: NumericTextOrNull;
  goldFrac: NumericText;
  grainDensityGpml: NumericTextOrNull;
  silverWithGold: boolean;
}

export interface LabAssayTable {
  id: string;
  lotId: string;
  laboratory: string;
  certificate: Generated<string>;
  assayedOn: DateText;
  method: Generated<string>;
  element: string;
  unit: 'g/t' | 'percent';
  value: NumericText;
  standardUncertainty: NumericTextOrNull;
  sampleMassG: NumericTextOrNull;
  /** Weighings and results behind an assay with the coarse metal screened out; null for a plain one. */
  screenMetallics: ColumnType<object | null, string | null | undefined, string | null>;
}

export interface TreatmentTable {
  id: string;
  name: string;
  description: Generated<string>;
  roast: boolean;
  chargeSizeKg: NumericText;
  roastHoursPerCharge: NumericText;
  furnaceHoursPerCharge: NumericText;
  labourHoursPerCharge: NumericText;
  labourSupplyId: string | null;
  fuelSupplyId: string | null;
  fuelPerCharge: NumericText;
  crucibleSupplyId: string | null;
  crucibleLifeCharges: NumericText;
  cupelSupplyId: string | null;
  roastPanKg: NumericTextOrNull;
  leadReturnLowFrac: NumericText;
  leadReturnModeFrac: NumericText;
  leadReturnHighFrac: NumericText;
  goldRecoveryMeanFrac: NumericText;
  goldRecoverySdFrac: NumericText;
  silverRecoveryMeanFrac: NumericText;
  silverRecoverySdFrac: NumericText;
  doreFinenessFrac: NumericText;
  wasteCostPerKg: NumericText;
  daysUntilBar: number;
  retired: Generated<boolean>;
  version: Generated<number>;
}

export interface TreatmentRecipeTable {
  treatmentId: string;
  supplyId: string;
  gramsPerHundredG: NumericText;
}

export interface CounterpartyTable {
  id: string;
  name: string;
  address: Generated<string>;
  remarks: Generated<string>;
  version: Generated<number>;
}

export interface TermsTable {
  id: string;
  familyId: string;
  versionNumber: number;
  counterpartyId: string;
  name: string;
  material: 'concentrate' | 'dore' | 'by-product';
  validFrom: DateText;
  validTo: DateTextOrNull;
  body: Json<object>;
  createdAt: TimestampText;
}

export interface TrialTable {
  id: string;
  lotId: string;
  treatmentId: string | null;
  name: string;
  remarks: Generated<string>;
  version: Generated<number>;
}

export interface TestSmeltTable {
  id: string;
  trialId: string;
  sample: string;
  smeltedOn: DateText;
  sampleMassG: NumericText;
  roasted: boolean;
  massBeforeRoastG: NumericTextOrNull;
  massAfterRoastG: NumericTextOrNull;
  roastHours: NumericTextOrNull;
  roastTempC: NumericTextOrNull;
  collectorLeadG: NumericTextOrNull;
  ironInG: NumericTextOrNull;
  ironOutG: NumericTextOrNull;
  crucibleVolumeMl: NumericTextOrNull;
  buttonG: NumericTextOrNull;
  matteG: NumericTextOrNull;
  slagG: NumericTextOrNull;
  beadMg: NumericTextOrNull;
  partedGoldMg: NumericTextOrNull;
  inquartSilverMg: NumericTextOrNull;
  matteGoldGpt: NumericTextOrNull;
  matteSilverGpt: NumericTextOrNull;
  slagGoldGpt: NumericTextOrNull;
  slagSilverGpt: NumericTextOrNull;
  blankMgPerLeadG: NumericTextOrNull;
  blankStandardUncertaintyMgPerLeadG: NumericTextOrNull;
  sampleBalanceId: string;
  beadBalanceId: string;
  setAsideReason: string | null;
  remarks: Generated<string>;
  version: Generated<number>;
}

export interface TestSmeltReagentTable {
  testSmeltId: string;
  supplyId: string;
  massG: NumericText;
}

export interface DecisionTable {
  id: string;
  lotId: string;
  decidedOn: DateText;
  dryMassKg: NumericText;
  /** Null with terms: the concentrate is sold as it is; null without: the lot is left for now. */
  treatmentId: string | null;
  termsId: string | null;
  reason: string;
  frozen: Json<object>;
  createdAt: TimestampText;
}

export interface BatchTable {
  id: string;
  code: string;
  lotId: string;
  /** The recorded decision that it carries out. */
  decisionId: string | null;
  /** Null: the concentrate is sold as it is. */
  treatmentId: string | null;
  termsId: string;
  status: 'planned' | 'running' | 'done' | 'cancelled';
  plannedOn: DateText;
  dryMassKg: NumericText;
  forecast: Json<object>;
  startedOn: DateTextOrNull;
  finishedOn: DateTextOrNull;
  furnaceHours: NumericTextOrNull;
  labourHours: NumericTextOrNull;
  leadInKg: NumericTextOrNull;
  leadBackKg: NumericTextOrNull;
  remarks: Generated<string>;
  version: Generated<number>;
  createdAt: TimestampText;
}

export interface BatchConsumptionTable {
  batchId: string;
  supplyId: string;
  quantity: NumericText;
}

export interface ProductTable {
  id: string;
  batchId: string;
  code: string;
  kind: 'bar' | 'parcel' | 'matte' | 'slag' | 'lead';
  madeOn: DateText;
  /** Bars: as weighed; parcels: wet; the rest: dry. */
  massKg: NumericText;
  goldFinenessFrac: NumericTextOrNull;
  silverFinenessFrac: NumericTextOrNull;
  remarks: Generated<string>;
  version: Generated<number>;
}

export interface StatementTable {
  id: string;
  number: string | null;
  productId: string;
  termsId: string;
  stage: 'provisional' | 'second-provisional' | 'final' | 'adjustment';
  status: 'draft' | 'issued';
  issuedOn: DateTextOrNull;
  supersedesId: string | null;
  input: Json<object>;
  settlement: Json<object>;
  total: NumericText;
  currency: string;
  version: Generated<number>;
  createdAt: TimestampText;
}

export interface BuyerStatementTable {
  id: string;
  /** Our statement that it answers. */
  statementId: string;
  number: string;
  datedOn: DateText;
  total: NumericText;
  remarks: Generated<string>;
  version: Generated<number>;
  enteredAt: TimestampText;
}

export interface BuyerStatementLineTable {
  buyerStatementId: string;
  place: number;
  label: string;
  /** The line of our settlement that it answers to. */
  lineId: string | null;
  quantity: NumericTextOrNull;
  amount: NumericTextOrNull;
}

export interface ImportedFileTable {
  id: string;
  kind: 'lots' | 'test-smelts' | 'quotations';
  fileName: string;
  sha256: string;
  rowsAdded: number;
  rowsUnchanged: number;
  importedAt: TimestampText;
}

export interface Database {
  mill: MillTable;
  season: SeasonTable;
  balance: BalanceTable;
  balanceCheck: BalanceCheckTable;
  balanceReading: BalanceReadingTable;
  cupellation: CupellationTable;
  cupellationProof: CupellationProofTable;
  supply: SupplyTable;
  supplyPrice: SupplyPriceTable;
  quotation: QuotationTable;
  lot: LotTable;
  lotMineral: LotMineralTable;
  lotSampling: LotSamplingTable;
  labAssay: LabAssayTable;
  treatment: TreatmentTable;
  treatmentRecipe: TreatmentRecipeTable;
  counterparty: CounterpartyTable;
  terms: TermsTable;
  trial: TrialTable;
  testSmelt: TestSmeltTable;
  testSmeltReagent: TestSmeltReagentTable;
  decision: DecisionTable;
  batch: BatchTable;
  batchConsumption: BatchConsumptionTable;
  product: ProductTable;
  statement: StatementTable;
  buyerStatement: BuyerStatementTable;
  buyerStatementLine: BuyerStatementLineTable;
  importedFile: ImportedFileTable;
}
