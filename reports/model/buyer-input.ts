import type { StatementComparison } from '../../api/calc/settlement/compare-statement.ts';
import type { StatementStage } from './statement-input.ts';

/** What is needed to say how the other party's statement stands beside ours. */
export interface ComparedStatements {
  comparison: StatementComparison;
  /** Who sent the statement. */
  partyName: string;
  /** How theirs is numbered; '' while it is being entered. */
  theirNumber: string;
  /** Null for a draft of ours. */
  ourNumber: string | null;
  /** Whether a higher total is to our good: where we sell. */
  weAreOwed: boolean;
}

export interface BuyerReportInput extends ComparedStatements {
  ours: { stage: StatementStage; issuedOn: string | null; parcelName: string; termsName: string };
  theirs: { datedOn: string; remarks: string };
  millName: string;
  isDemo: boolean;
}
