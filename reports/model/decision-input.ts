import type { Decision } from '../../api/calc/economics/decide.ts';
import type { MetalPrice, SaidUnits } from '../../api/calc/economics/options.ts';
import type { InferLotResult } from '../../api/calc/evidence/infer-lot.ts';
import type { Metal } from '../../api/calc/evidence/lot-evidence.ts';
import type { Assumptions } from '../../api/calc/facts/assumptions.ts';
import type { DecisionDepth } from '../../api/calc/facts/decision-depth.ts';
import type { InquiryCosts } from '../../api/calc/facts/inquiries.ts';
import type { Finding } from '../../api/calc/finding.ts';

/** A recorded decision with all that was frozen with it. */
export interface DecisionReportInput {
  millName: string;
  lotCode: string;
  decidedOn: string;
  dryMassKg: string;
  currency: string;
  /** Null: the lot was left as it is. */
  chosenId: string | null;
  reason: string;
  decision: Decision;
  /** What the records and the evidence gave to bear in mind. */
  findings: Finding[];
  summary: InferLotResult['summary'];
  /** Test smelts that counted, and lab assays of gold and silver. */
  testSmelts: number;
  labAssays: number;
  prices: Record<Metal, MetalPrice>;
  assumptions: Assumptions;
  depth: DecisionDepth;
  inquiryCosts: InquiryCosts;
  /** What came of the batches that carried it out, one sentence each. */
  outcomes: { batchCode: string; sentence: string }[];
  /** Those of the mill. */
  units: SaidUnits;
  isDemo: boolean;
}
