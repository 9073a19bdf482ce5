import type { InferLotResult } from '../../api/calc/evidence/infer-lot.ts';
import type { LotEvidence } from '../../api/calc/facts/lot-evidence.ts';
import type { EvidenceFacts } from '../../api/calc/facts/records.ts';

/** A lot's evidence to be worked; answers carry its number back. */
export interface EvidenceRequest {
  number: number;
  facts: EvidenceFacts;
}

/** What a lot's tests and assays say, without the draws behind it. */
export interface EvidenceAnswer extends Pick<LotEvidence, 'trials'> {
  number: number;
  drawCount: number;
  effectiveDraws: InferLotResult['effectiveDraws'];
  summary: InferLotResult['summary'];
  findings: InferLotResult['findings'];
}
