import type { Assumptions } from '../../api/calc/facts/assumptions.ts';
import type { LotDecision } from '../../api/calc/facts/decide-lot.ts';
import type { DecisionFacts } from '../../api/calc/facts/records.ts';
import type { InferLotResult } from '../../api/calc/evidence/infer-lot.ts';

/** One what-if to be worked; answers carry its number back. */
export interface DecideRequest {
  number: number;
  facts: DecisionFacts;
  assumptions: Assumptions;
  dryMassKg: number;
}

/** The decision without the draws behind it, which stay with the worker. */
export interface DecideAnswer extends Pick<LotDecision, 'decision' | 'prices' | 'findings'> {
  number: number;
  summary: InferLotResult['summary'];
  evidenceFindings: InferLotResult['findings'];
}
