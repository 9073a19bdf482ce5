import { decideLot } from '../../api/calc/facts/decide-lot.ts';
import { workLot } from '../../api/calc/facts/lot-evidence.ts';
import type { LotEvidence } from '../../api/calc/facts/lot-evidence.ts';
import type { DecisionFacts } from '../../api/calc/facts/records.ts';
import type { DecideAnswer, DecideRequest } from '../lib/decide-messages.ts';

/** The lot's evidence does not change with prices and costs: it is worked once for the facts, draws and seed at hand. */
let worked: { key: string; facts: DecisionFacts; evidence: LotEvidence } | null = null;

self.onmessage = ({ data }: MessageEvent<DecideRequest>) => {
  const { facts, assumptions, dryMassKg, number } = data;
  const key = JSON.stringify([facts, assumptions.drawCount, assumptions.seed]);
  if (worked === null || worked.key !== key) worked = { key, facts, evidence: workLot(facts, assumptions) };
  const { decision, prices, findings } = decideLot(facts, assumptions, dryMassKg, worked.evidence);
  const { summary, findings: evidenceFindings } = worked.evidence.inference;
  const answer: DecideAnswer = { number, decision, prices, findings, summary, evidenceFindings };
  self.postMessage(answer);
};
