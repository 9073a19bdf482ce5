import type { Decision } from '../../api/calc/economics/decide.ts';
import type { MetalPrice } from '../../api/calc/economics/options.ts';
import type { InferLotResult } from '../../api/calc/evidence/infer-lot.ts';
import type { Metal } from '../../api/calc/evidence/lot-evidence.ts';
import type { Assumptions } from '../../api/calc/facts/assumptions.ts';
import type { DecisionDepth } from '../../api/calc/facts/decision-depth.ts';
import type { InquiryCosts } from '../../api/calc/facts/inquiries.ts';
import type { DecisionFacts } from '../../api/calc/facts/records.ts';
import type { Finding } from '../../api/calc/finding.ts';

/** What is frozen when a decision is recorded: all it was worked from, and all that was worked out. */
export interface FrozenDecision {
  facts: DecisionFacts;
  assumptions: Assumptions;
  inquiryCosts: InquiryCosts;
  dryMassKg: string;
  /** The option chosen; null: the lot is left as it is. */
  chosenId: string | null;
  prices: Record<Metal, MetalPrice>;
  decision: Decision;
  findings: Finding[];
  summary: InferLotResult['summary'];
  evidenceFindings: Finding[];
  depth: DecisionDepth;
}
