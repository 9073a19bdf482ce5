import type { EventName } from '../../api/calc/terms/term-units.ts';
import type { Settlement } from '../../api/calc/settlement/statement.ts';

export interface Party {
  name: string;
  addressLines: string[];
}

export type StatementStage = 'provisional' | 'second-provisional' | 'final' | 'adjustment';

/** The daily prices of one metal's quotational period. */
export interface StatementQuotations {
  metal: string;
  /** For example `USD/ozt`. */
  unit: string;
  /** How the period is set, as a sentence or part of one. */
  basis: string;
  rows: { date: string; price: string }[];
}

/** What the total changed by since the statement before, split by cause; decimal texts. */
export interface StatementChange {
  previousNumber: string;
  currency: string;
  massEffect: string;
  assayEffect: string;
  priceEffect: string;
  /** Terms that changed between the two, and the umpire's cost. */
  otherEffect: string;
  total: string;
}

export interface StatementReportInput {
  settlement: Settlement;
  statement: {
    /** Null while it is a draft without a number. */
    number: string | null;
    stage: StatementStage;
    /** Null or empty while it has no date. */
    issuedOn: string | null;
    /** Number of the statement that this one follows. */
    supersedes: string | null;
    isDraft: boolean;
  };
  seller: Party;
  buyer: Party;
  material: 'concentrate' | 'dore' | 'by-product';
  parcelName: string;
  termsName: string;
  termsSentences: { clause: string; sentence: string }[];
  /** The days that were entered, and those that the terms count from; null where such a day is not entered. */
  days: { event: EventName; on: string | null }[];
  /** Day by which the terms have it paid; null where they name none or its event has no day yet. */
  dueOn: string | null;
  quotations: StatementQuotations[];
  changeFromPrevious: StatementChange | null;
  /** What may still change on a provisional statement, one sentence each. */
  provisionalItems: string[];
  isDemo: boolean;
}
