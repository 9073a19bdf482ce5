import type { Kysely } from 'kysely';
import { findDecision, findFrozenDecision } from '../db/queries/decisions.ts';
import { findMill } from '../db/queries/mill.ts';
import { decisionReport } from '../reports/model/decision-report.ts';
import type { Report } from '../reports/model/report.ts';
import type { Database } from '../db/schema.ts';

/** A recorded decision as a report: the same for the page and the print. */
export async function decisionDocument(db: Kysely<Database>, id: string): Promise<Report> {
  const mill = await findMill(db);
  const record = await findDecision(db, id);
  const frozen = await findFrozenDecision(db, id);
  const smelts = frozen.facts.trials.flatMap((trial) => trial.smelts);
  return decisionReport({
    millName: mill.name,
    lotCode: record.lotCode,
    decidedOn: record.decidedOn,
    dryMassKg: record.dryMassKg,
    currency: record.currency,
    chosenId: frozen.chosenId,
    reason: record.reason,
    decision: frozen.decision,
    findings: [...frozen.findings, ...frozen.evidenceFindings],
    summary: frozen.summary,
    testSmelts: smelts.filter((smelt) => smelt.setAsideReason === null).length,
    labAssays: frozen.facts.lot.labAssays.filter(({ element }) => element === 'Au' || element === 'Ag')
      .length,
    prices: frozen.prices,
    assumptions: frozen.assumptions,
    depth: frozen.depth,
    inquiryCosts: frozen.inquiryCosts,
    outcomes: record.batches.flatMap(({ batchCode, hindsight }) =>
      hindsight === null ? [] : [{ batchCode, sentence: hindsight.sentence }],
    ),
    units: mill,
    isDemo: mill.isDemo,
  });
}
