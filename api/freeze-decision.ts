import type { Kysely } from 'kysely';
import { decideDrawn } from './calc/economics/decide.ts';
import { drawDecision } from './calc/economics/simulate.ts';
import type { Assumptions } from './calc/facts/assumptions.ts';
import { isBlocked, lotQuestion } from './calc/facts/decide-lot.ts';
import { workDepth } from './calc/facts/decision-depth.ts';
import type { InquiryCosts } from './calc/facts/inquiries.ts';
import { workLot } from './calc/facts/lot-evidence.ts';
import { optionId } from './calc/facts/lot-options.ts';
import { breath, workedInSteps } from './in-steps.ts';
import { Refused } from '../db/queries/changed.ts';
import type { FrozenDecision } from '../db/queries/frozen-decision.ts';
import { decisionFacts } from '../db/queries/facts.ts';
import type { Database } from '../db/schema.ts';

/**
 * A decision as it stands on a day, with all it rests on: facts, assumptions, every option, and what lies
 * behind it. Working `lotQuestion` and `workDepth` again on the same gives the same figures.
 */
export async function freezeDecision(
  db: Kysely<Database>,
  planned: {
    lotId: string;
    decidedOn: string;
    dryMassKg: string;
    chosen: { treatmentId: string | null; termsId: string } | null;
  },
  assumptions: Assumptions,
  inquiryCosts: InquiryCosts,
): Promise<FrozenDecision> {
  const facts = await decisionFacts(db, planned.lotId, planned.decidedOn);
  const evidence = workLot(facts, assumptions);
  await breath();
  const question = lotQuestion(facts, assumptions, Number(planned.dryMassKg), evidence);
  await breath();
  const drawn = drawDecision(question.input);
  await breath();
  const decision = decideDrawn(drawn);
  const { findings } = question;
  const stop = findings.find((finding) => finding.level === 'blocker');
  if (isBlocked({ decision, findings }))
    throw new Refused(
      '/lotId',
      `cannot be decided about as of ${planned.decidedOn}. ${stop?.sentence ?? 'There is nothing to compare.'}`,
    );
  const { chosen } = planned;
  const chosenId = chosen === null ? null : optionId(chosen.treatmentId, chosen.termsId);
  if (chosenId !== null && !decision.options.some((option) => option.id === chosenId))
    throw new Refused(
      '/chosen',
      `is none of the options that could be worked out as of ${planned.decidedOn}`,
    );
  const depth = await workedInSteps(workDepth(question, drawn, decision));
  const { summary, findings: evidenceFindings } = question.evidence.inference;
  return {
    facts,
    assumptions,
    inquiryCosts,
    dryMassKg: planned.dryMassKg,
    chosenId,
    prices: { Au: question.input.prices.Au, Ag: question.input.prices.Ag },
    decision,
    findings,
    summary,
    evidenceFindings,
    depth,
  };
}
