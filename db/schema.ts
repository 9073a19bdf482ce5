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

export type FeedUnit = 't' | 'short ton' | 'm3' | 'yd3' | 'loader';

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
  /** What a day's feed is counted in, and what one of it weighs. */
  feedUnit: Generated<FeedUnit>;
  feedTonnesPerUnit: ColumnType<string, string | undefined, string>;
  feedMoistureFrac: ColumnType<string, string | undefined, string>;
  /** Standard uncertainties of the scales that lots and bars are weighed on. */
  lotScaleUncertaintyFrac: ColumnType<string, string | undefined, string>;
  barScaleUncertaintyG: ColumnType<string, string | undefined, string>;
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
  /** Whose lot it is that a custom mill works up; null for the mill's own. */
  ownerCounterpartyId: ColumnType<string | null, string | null | undefined, string | null>;
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

/** What a lot was inferred to hold; thrown away by the database when what it rests on changes. */
export interface LotGradeTable {
  lotId: string;
  madeOn: DateText;
  grade: Json<object>;
}

/** What the tests of a lot say of treatments; thrown away like its grade. */
export interface LotRecoveryTable {
  lotId: string;
  recoveries: Json<object>;
}

/** What a month ended with; thrown away by the database when a record of it or of a month before changes. */
export interface MonthStateTable {
  /** First day of the month. */
  month: DateText;
  state: Json<object>;
}

/** The program that worked the figures that are kept. */
export interface KeptByTable {
  onlyOne: Generated<boolean>;
  program: string;
}

/** What is shown of a batch's frozen forecast; kept the same by the database. */
export interface BatchForecastTable {
  batchId: string;
  shown: Json<object>;
  basis: Json<object> | null;
  superseded: Json<object>;
}

/** What a month counts by its records as they are; thrown away by the database when one of them changes. */
export interface MonthBookTable {
  /** First day of the month. */
  month: DateText;
  entries: Json<object>;
  summary: Json<object>;
}

/** What was at the mill or with a buyer at the end of a month; thrown away like its books. */
export interface MonthPlaceTable {
  /** First day of the month. */
  month: DateText;
  lots: string[];
  batches: string[];
  products: string[];
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
  kind: 'bar' | 'parcel' | 'bead' | 'button' | 'matte' | 'slag' | 'lead';
  madeOn: DateText;
  /** Parcels: wet; the rest: as weighed. */
  massKg: NumericText;
  goldFinenessFrac: NumericTextOrNull;
  silverFinenessFrac: NumericTextOrNull;
  massStandardUncertaintyKg: NumericTextOrNull;
  goldStandardUncertaintyFrac: NumericTextOrNull;
  silverStandardUncertaintyFrac: NumericTextOrNull;
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

export interface StatementPaymentTable {
  id: string;
  statementId: string;
  paidOn: DateText;
  amount: NumericText;
  currency: string;
  countsAs: NumericText;
  reference: Generated<string>;
  version: Generated<number>;
  enteredAt: TimestampText;
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
  kind: 'lots' | 'test-smelts' | 'quotations' | 'days' | 'purchases';
  fileName: string;
  sha256: string;
  rowsAdded: number;
  rowsUnchanged: number;
  importedAt: TimestampText;
}

export interface ProductionDayTable {
  id: string;
  seasonId: string;
  day: DateText;
  feedQuantity: NumericTextOrNull;
  feedUnit: FeedUnit;
  feedTonnesPerUnit: NumericText;
  feedMoistureFrac: NumericText;
  feedGoldGpt: NumericTextOrNull;
  feedSilverGpt: NumericTextOrNull;
  tailingsGoldGpt: NumericTextOrNull;
  tailingsSilverGpt: NumericTextOrNull;
  concentrateWetKg: NumericTextOrNull;
  concentrateMoistureFrac: NumericTextOrNull;
  hoursRun: NumericTextOrNull;
  remarks: Generated<string>;
  version: Generated<number>;
  enteredAt: TimestampText;
}

export interface ProductionDaySupplyTable {
  productionDayId: string;
  supplyId: string;
  quantity: NumericText;
}

export interface ProductionDayLabourTable {
  productionDayId: string;
  place: number;
  person: string;
  /** The wage that the hours are paid at. */
  supplyId: string;
  hours: NumericText;
}

/** What a lot was made from: a day, another lot or a product; exactly one of the three. */
export interface LotPartTable {
  id: string;
  lotId: string;
  productionDayId: string | null;
  fromLotId: string | null;
  productId: string | null;
  dryMassKg: NumericText;
  takenOn: DateText;
}

export interface LotPurchaseTable {
  lotId: string;
  amount: NumericText;
  currency: string;
  boughtOn: DateText;
  supplier: Generated<string>;
  document: Generated<string>;
  paidOn: DateTextOrNull;
}

export interface WriteOffTable {
  id: string;
  lotId: string | null;
  productId: string | null;
  writtenOffOn: DateText;
  /** kg dry for a lot, kg as weighed for a product. */
  massKg: NumericText;
  reason: string;
  enteredAt: TimestampText;
}

export interface ShipmentTable {
  id: string;
  code: string;
  counterpartyId: string;
  shippedOn: DateText;
  arrivedOn: DateTextOrNull;
  carrier: Generated<string>;
  seals: Generated<string>;
  insuredFor: NumericTextOrNull;
  insuredCurrency: string | null;
  insurer: Generated<string>;
  remarks: Generated<string>;
  version: Generated<number>;
}

export interface ShipmentProductTable {
  shipmentId: string;
  productId: string;
}

export interface SupplyPurchaseTable {
  id: string;
  supplyId: string;
  boughtOn: DateText;
  quantity: NumericText;
  /** In all, without tax that is paid back, freight included. */
  amount: NumericText;
  currency: string;
  supplier: Generated<string>;
  document: Generated<string>;
  paidOn: DateTextOrNull;
  remarks: Generated<string>;
  version: Generated<number>;
  enteredAt: TimestampText;
}

export interface SupplyCountTable {
  id: string;
  supplyId: string;
  countedOn: DateText;
  /** What was there at the end of the day. */
  quantity: NumericText;
  /** Only for a first count, before any purchase is on the books. */
  unitCost: NumericTextOrNull;
  remarks: Generated<string>;
  version: Generated<number>;
  enteredAt: TimestampText;
}

export interface ExpenseTable {
  id: string;
  spentOn: DateText;
  kind:
    | 'rent'
    | 'repair'
    | 'permit'
    | 'insurance'
    | 'power'
    | 'transport'
    | 'assays'
    | 'fees'
    | 'wages'
    | 'wages-paid'
    | 'royalty-paid'
    | 'tax-paid'
    | 'other';
  amount: NumericText;
  currency: string;
  payee: Generated<string>;
  document: Generated<string>;
  paidOn: DateTextOrNull;
  remarks: Generated<string>;
  version: Generated<number>;
  enteredAt: TimestampText;
}

export interface ExchangeRateTable {
  currency: string;
  ratedOn: DateText;
  /** Of the mill's currency for one of this. */
  rate: NumericText;
  source: Generated<string>;
}

export interface AccountCodeTable {
  kind: string;
  code: string;
  name: string;
  version: Generated<number>;
}

export interface BudgetTable {
  seasonId: string;
  furnaceHoursPerDay: NumericTextOrNull;
  remarks: Generated<string>;
  version: Generated<number>;
}

export interface BudgetMonthTable {
  seasonId: string;
  /** First day of the month. */
  month: DateText;
  feedDryT: Generated<string>;
  concentrateDryKg: Generated<string>;
  treatedDryKg: Generated<string>;
  fixedCosts: Generated<string>;
}

/** What a month's report was made of on the day it was closed. */
export interface ClosedMonthTable {
  month: DateText;
  closedAt: TimestampText;
  closedBy: string;
  entries: Json<object>;
  report: Json<object>;
}

/** The journal of a closed month, as it was when it was closed. */
export interface ClosedMonthJournalTable {
  month: DateText;
  journal: Json<object>;
}

export interface AccountTable {
  id: string;
  name: string;
  /** The name as it is compared: case and width make no difference. */
  nameKey: string;
  role: 'owner' | 'operator' | 'accountant' | 'customer';
  counterpartyId: string | null;
  passwordHash: string | null;
  passwordSetAt: ColumnType<string | null, string | null | undefined, string | null>;
  /** Of the codes from a telephone (RFC 6238), in base 32. */
  codeSecret: string | null;
  /** Shown, but not yet confirmed by a first code. */
  codeSecretOffered: string | null;
  /** Step of the last code that was taken: no code is taken twice. */
  codeLastStep: number | null;
  disabled: Generated<boolean>;
  version: Generated<number>;
  createdAt: ColumnType<string, string, never>;
}

export interface AccountRecoveryCodeTable {
  accountId: string;
  codeHash: string;
}

export interface AccountSessionTable {
  id: string;
  accountId: string;
  tokenHash: string;
  startedAt: ColumnType<string, string, never>;
  lastSeenAt: ColumnType<string, string, string>;
  expiresAt: ColumnType<string, string, never>;
  device: string;
  address: string;
}

export interface AccountSetupTable {
  accountId: string;
  tokenHash: string;
  expiresAt: ColumnType<string, string, string>;
}

export interface SignInLimitTable {
  key: string;
  failures: number;
  lastAt: ColumnType<string, string, string>;
  blockedUntil: ColumnType<string | null, string | null, string | null>;
}

export interface DownloadLinkTable {
  id: string;
  tokenHash: string;
  what: string;
  seasonId: string;
  remarks: Generated<string>;
  madeBy: string;
  madeAt: ColumnType<string, string, never>;
  expiresAt: ColumnType<string, string, never>;
  revokedAt: ColumnType<string | null, string | null | undefined, string | null>;
  lastUsedAt: ColumnType<string | null, string | null | undefined, string | null>;
  uses: Generated<number>;
}

/** New rows of imports that are still being read. */
export interface ImportRowTable {
  importId: string;
  place: number;
  entry: ColumnType<unknown, string, string>;
  stagedAt: Generated<TimestampText>;
}

export interface AuditEntryTable {
  id: Generated<string>;
  /** Its place in the chain, given when its transaction commits. */
  sequence: string | null;
  at: TimestampText;
  actor: string;
  accountId: string | null;
  requestId: string | null;
  transactionId: Generated<string>;
  tableName: string;
  action: 'found' | 'insert' | 'update' | 'delete' | 'truncate';
  recordId: string | null;
  ownerId: string | null;
  rowKey: ColumnType<[string, unknown][] | null, string | null, string | null>;
  rowCount: ColumnType<string, string | number, string | number>;
  before: ColumnType<Record<string, unknown> | null, string | null, string | null>;
  after: ColumnType<Record<string, unknown> | null, string | null, string | null>;
  previousHash: string | null;
  hash: string | null;
}

export interface AuditHeadTable {
  id: Generated<number>;
  sequence: string;
  hash: string;
}

export interface IdempotencyTable {
  account: string;
  key: string;
  requestSha256: string;
  status: number;
  contentType: string | null;
  body: string;
  createdAt: TimestampText;
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
  lotGrade: LotGradeTable;
  lotRecovery: LotRecoveryTable;
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
  statementPayment: StatementPaymentTable;
  buyerStatement: BuyerStatementTable;
  buyerStatementLine: BuyerStatementLineTable;
  importedFile: ImportedFileTable;
  importRow: ImportRowTable;
  productionDay: ProductionDayTable;
  productionDaySupply: ProductionDaySupplyTable;
  productionDayLabour: ProductionDayLabourTable;
  lotPart: LotPartTable;
  lotPurchase: LotPurchaseTable;
  writeOff: WriteOffTable;
  shipment: ShipmentTable;
  shipmentProduct: ShipmentProductTable;
  supplyPurchase: SupplyPurchaseTable;
  supplyCount: SupplyCountTable;
  expense: ExpenseTable;
  exchangeRate: ExchangeRateTable;
  accountCode: AccountCodeTable;
  budget: BudgetTable;
  budgetMonth: BudgetMonthTable;
  closedMonth: ClosedMonthTable;
  closedMonthJournal: ClosedMonthJournalTable;
  monthState: MonthStateTable;
  batchForecast: BatchForecastTable;
  keptBy: KeptByTable;
  monthBook: MonthBookTable;
  monthPlace: MonthPlaceTable;
  account: AccountTable;
  accountRecoveryCode: AccountRecoveryCodeTable;
  accountSession: AccountSessionTable;
  accountSetup: AccountSetupTable;
  signInLimit: SignInLimitTable;
  downloadLink: DownloadLinkTable;
  auditEntry: AuditEntryTable;
  auditHead: AuditHeadTable;
  idempotency: IdempotencyTable;
}
