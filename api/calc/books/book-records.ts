import type { Settlement } from '../settlement/statement.ts';
import type { BatchCost, CostLine } from './batch-cost.ts';
import type { DatedRate } from './exchange.ts';
import type { StockEntry } from './moving-average.ts';

/** The supply's kinds, by which costs are told apart. */
export type SupplyKind =
  'reagent' | 'lead' | 'litharge' | 'iron' | 'fuel' | 'crucible' | 'cupel' | 'labour' | 'other';

export interface BookSupply {
  id: string;
  name: string;
  kind: SupplyKind;
  unit: string;
  prices: readonly { effectiveOn: string; price: string }[];
}

export interface BookDay {
  id: string;
  day: string;
  /** Decimal texts; null where not entered. */
  feedWetT: string | null;
  feedDryT: string | null;
  concentrateDryKg: string | null;
  hoursRun: string | null;
  /** g/t, of the feed and of the tailings. */
  assays: Record<'feedGoldGpt' | 'feedSilverGpt' | 'tailingsGoldGpt' | 'tailingsSilverGpt', string | null>;
  labourHours: string;
  cost: { lines: CostLine[]; total: string; missing: string[] };
}

export interface BookLot {
  id: string;
  code: string;
  madeOn: string;
  dryMassKg: string;
  /** Whose lot it is; null for the mill's own. */
  ownerName: string | null;
}

export interface BookLotPart {
  id: string;
  lotId: string;
  lotCode: string;
  source: 'day' | 'lot' | 'product';
  sourceId: string;
  /** Code of the lot or product, date of the day. */
  sourceCode: string;
  dryMassKg: string;
  takenOn: string;
}

export interface BookLotPurchase {
  lotId: string;
  lotCode: string;
  amount: string;
  currency: string;
  boughtOn: string;
  paidOn: string | null;
  supplier: string;
  document: string;
}

export interface BookTestSmelt {
  id: string;
  lotId: string;
  lotCode: string;
  smeltedOn: string;
  sampleMassG: string;
}

export interface BookBatch {
  id: string;
  code: string;
  lotId: string;
  lotCode: string;
  treatmentId: string | null;
  treatmentName: string | null;
  termsId: string;
  buyerName: string;
  /** The decision that it names as carried out by it. */
  decisionId: string | null;
  plannedOn: string;
  status: 'planned' | 'running' | 'done';
  /** When its mass went into work: started, or planned where no start was entered. Null while it is only planned. */
  inWorkOn: string | null;
  finishedOn: string | null;
  /** When what it used counts: finished, else started, else planned. */
  costOn: string;
  dryMassKg: string;
  furnaceHours: string | null;
  labourHours: string | null;
  leadInKg: string | null;
  leadBackKg: string | null;
  cost: BatchCost;
}

export type ProductKind = 'bar' | 'parcel' | 'bead' | 'button' | 'matte' | 'slag' | 'lead';

export interface BookProduct {
  id: string;
  code: string;
  kind: ProductKind;
  batchId: string;
  batchCode: string;
  lotId: string;
  madeOn: string;
  /** As weighed; a parcel is wet. */
  massKg: string;
  dryMassKg: string;
  /** By its own assays; null where it has none. */
  goldG: string | null;
  silverG: string | null;
}

export interface BookShipment {
  id: string;
  code: string;
  buyerName: string;
  shippedOn: string;
  arrivedOn: string | null;
  products: (Pick<BookProduct, 'id' | 'code' | 'kind' | 'goldG' | 'silverG' | 'dryMassKg' | 'lotId'> & {
    massKg: string;
  })[];
}

export interface BookStatement {
  id: string;
  number: string;
  stage: 'provisional' | 'second-provisional' | 'final' | 'adjustment';
  issuedOn: string;
  supersedesId: string | null;
  productId: string;
  productCode: string;
  productKind: ProductKind;
  batchId: string;
  batchCode: string;
  lotCode: string;
  treatmentName: string | null;
  buyerName: string;
  /** Where the mill buys, it owes the total. */
  millSells: boolean;
  currency: string;
  /** What the statement brings the mill, what was paid before taken off. Decimal text, below zero where the mill owes it. */
  brings: string;
  settlement: Settlement;
  /** Names of those of its royalties that are production taxes. */
  productionTaxes: string[];
  /** Payable troy ounces of it and of the statement that it follows; null where it does not say. */
  payableOzt: Record<'Au' | 'Ag', string | null>;
  payableBeforeOzt: Record<'Au' | 'Ag', string | null>;
}

export interface BookPayment {
  id: string;
  statementId: string;
  statementNumber: string;
  buyerName: string;
  statementCurrency: string;
  millSells: boolean;
  paidOn: string;
  amount: string;
  currency: string;
  /** In the statement's currency. */
  countsAs: string;
  reference: string;
}

export interface BookSupplyPurchase {
  id: string;
  supplyId: string;
  boughtOn: string;
  quantity: string;
  amount: string;
  currency: string;
  supplier: string;
  document: string;
  paidOn: string | null;
}

export interface BookSupplyCount {
  id: string;
  supplyId: string;
  countedOn: string;
  quantity: string;
}

export const expenseKinds = [
  'rent',
  'repair',
  'permit',
  'insurance',
  'power',
  'transport',
  'assays',
  'fees',
  'wages',
  'wages-paid',
  'royalty-paid',
  'tax-paid',
  'other',
] as const;
export type ExpenseKind = (typeof expenseKinds)[number];

export interface BookExpense {
  id: string;
  spentOn: string;
  kind: ExpenseKind;
  amount: string;
  currency: string;
  payee: string;
  document: string;
  paidOn: string | null;
}

export interface BookWriteOff {
  id: string;
  of: 'lot' | 'product';
  sourceId: string;
  code: string;
  writtenOffOn: string;
  /** kg dry of a lot, kg as weighed of a product. */
  massKg: string;
  reason: string;
}

/** What happened to the stock of a supply, with what it did to its value. */
export type BookStockEntry = StockEntry & {
  supplyId: string;
  /** True of the count with which the stock came onto the books: no difference, but what was there. */
  opens?: boolean;
};

/**
 * All records of the books that count in a range of days, each by its own day, with the costs of days and batches
 * worked by the one way that costs are worked. What reports and the journal are made of.
 */
export interface BookRecords {
  from: string;
  to: string;
  /** The mill's. */
  currency: string;
  supplies: BookSupply[];
  days: BookDay[];
  lots: BookLot[];
  lotParts: BookLotPart[];
  lotPurchases: BookLotPurchase[];
  testSmelts: BookTestSmelt[];
  /** Those not cancelled whose mass went into work, or whose costs count, in the range. */
  batches: BookBatch[];
  products: BookProduct[];
  shipments: BookShipment[];
  statements: BookStatement[];
  payments: BookPayment[];
  supplyPurchases: BookSupplyPurchase[];
  supplyCounts: BookSupplyCount[];
  expenses: BookExpense[];
  writeOffs: BookWriteOff[];
  stockEntries: BookStockEntry[];
  /** Of every currency that the records name beside the mill's. */
  rates: DatedRate[];
}
