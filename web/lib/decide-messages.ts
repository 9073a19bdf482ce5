import type { Assumptions } from '../../api/calc/facts/assumptions.ts';
import type { LotDecision } from '../../api/calc/facts/decide-lot.ts';
import type { DecisionDepth } from '../../api/calc/facts/decision-depth.ts';
import type { BlendPart } from '../../api/calc/facts/blend.ts';
import type { DecisionFacts, LotFacts } from '../../api/calc/facts/records.ts';
import type { InferLotResult } from '../../api/calc/evidence/infer-lot.ts';
import type { OptionResult } from '../../api/calc/economics/decide.ts';

/** A what-if that was kept, to be worked on the same facts. */
export interface ScenarioQuestion {
  name: string;
  assumptions: Assumptions;
  dryMassKg: number;
}

/** One what-if to be worked; answers carry its number back. */
export interface DecideRequest {
  number: number;
  facts: DecisionFacts;
  assumptions: Assumptions;
  dryMassKg: number;
  /** What is left of the lot; of meaning for a blend. */
  leftKg: number;
  /** The lots that are blended with it; none: the lot by itself. */
  others: BlendPart[];
  scenarios: ScenarioQuestion[];
}

/** The decision without the draws behind it, which stay with the worker. */
export interface DecideAnswer extends Pick<LotDecision, 'decision' | 'prices' | 'findings'> {
  number: number;
  /** The lot, or the blend as if it were one; a blend is named in sentences by its subject. */
  about: Pick<LotFacts, 'code' | 'minerals'> & { subject: string | null };
  summary: InferLotResult['summary'];
  evidenceFindings: InferLotResult['findings'];
}

/** What a kept what-if comes to; no best where nothing can be compared. */
export interface ScenarioAnswer {
  name: string;
  sentence: string;
  best: Pick<OptionResult, 'name' | 'netValue' | 'chanceBestFrac'> | null;
}

/** The decision comes first; what lies behind it follows in pieces, and is dropped when a newer request arrives. */
export type DecideMessage =
  | { kind: 'decision'; answer: DecideAnswer }
  | { kind: 'scenarios'; number: number; scenarios: ScenarioAnswer[] }
  | { kind: 'depth'; number: number; depth: DecisionDepth };
