/** What a row of the accountant's file is. */
export type AccountantKind =
  | 'sale of metal'
  | 'credit'
  | 'treatment charge'
  | 'refining charge'
  | 'lot charge'
  | 'sampling'
  | 'assaying'
  | 'representation'
  | 'freight'
  | 'insurance'
  | 'handling'
  | 'other charge'
  | 'penalty'
  | 'royalty'
  | 'production tax'
  | 'sales or withholding tax'
  | 'interest'
  | 'held back'
  | 'earlier statement'
  | 'reagent'
  | 'lead'
  | 'litharge'
  | 'iron'
  | 'fuel'
  | 'crucible'
  | 'cupel'
  | 'wage'
  | 'waste disposal'
  | 'other cost';

/** One amount of the accountant's file. Figures are plain decimal texts. */
export interface AccountantRow {
  /** ISO 8601. */
  date: string;
  /** Statement number, or what the cost is booked under, for example a batch code. */
  documentNumber: string;
  /** The statement's line that the amount stands on, or ''. */
  documentLine: string;
  counterparty: string;
  kind: AccountantKind;
  description: string;
  quantity: string | null;
  unit: string;
  unitPrice: string | null;
  /** Signed: what the mill is due is positive, what it owes or spends negative. */
  amount: string;
  /** ISO 4217. */
  currency: string;
}
