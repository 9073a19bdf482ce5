import { workLot } from '../../api/calc/facts/lot-evidence.ts';
import { assumptions } from '../../api/schemas/decision.ts';
import type { EvidenceAnswer, EvidenceRequest } from '../lib/evidence-messages.ts';

/** The draws that a decision takes unless it is told otherwise, so that both pages say the same of a lot. */
const { drawCount, seed } = assumptions.parse({});

self.onmessage = ({ data }: MessageEvent<EvidenceRequest>) => {
  const { trials, inference } = workLot(data.facts, { drawCount, seed });
  const answer: EvidenceAnswer = {
    number: data.number,
    trials,
    drawCount,
    effectiveDraws: inference.effectiveDraws,
    summary: inference.summary,
    findings: inference.findings,
  };
  self.postMessage(answer);
};
