import type { Finding } from '../finding.ts';

/** Where on a statement a line stands; sections print in this order. */
export type SettlementSection =
  | 'weights'
  | 'assays'
  | 'prices'
  | 'payable'
  | 'charges'
  | 'penalties'
  | 'credits'
  | 'royalties'
  | 'taxes'
  | 'previous'
  | 'total';

/** A decimal quantity exactly as it prints, with its unit, for example { value: '12.345', unit: 'ozt' }. */
export interface PrintedQuantity {
  value: string;
  unit: string;
}

/**
 * One line of a statement. Every line can be re-computed with a pocket
 * calculator from what is printed: `working` spells the arithmetic out in the
 * printed figures, for example "9.850 g/t × 97.00 % = 9.5545 g/t payable".
 */
export interface SettlementLine {
  /** Stable within one statement: `weights/dry`, `payable/Au`, `penalties/As`. */
  id: string;
  section: SettlementSection;
  label: string;
  working: string;
  quantity: PrintedQuantity | null;
  rate: PrintedQuantity | null;
  /** The result of the line where it is not money (a mass, a grade, a price). */
  result: PrintedQuantity | null;
  /** Signed decimal string in the statement's currency at its money decimals; deductions are negative. Null where the line is not money. */
  amount: string | null;
}

/** A worked settlement: pure result of terms + parcel + assays + prices; nothing here is issued yet. */
export interface Settlement {
  currency: string;
  /** Number of decimals of money, 2 for most currencies. */
  moneyDecimals: number;
  lines: SettlementLine[];
  /** Signed sum of all `amount`s, to the cent: what the buyer owes on this statement. */
  total: string;
  /** The rounding rules that were used, as sentences to print. */
  roundingRules: string[];
  findings: Finding[];
}
