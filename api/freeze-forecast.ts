import type { Kysely } from 'kysely';
import { decideLot } from './calc/facts/decide-lot.ts';
import { workLot } from './calc/facts/lot-evidence.ts';
import { breath } from './in-steps.ts';
import { forecastBasis } from './calc/facts/forecast-basis.ts';
import { decisionFacts } from '../db/queries/facts.ts';
import { Refused } from '../db/queries/changed.ts';
import type { FrozenForecast } from '../db/queries/batch-plans.ts';
import type { Assumptions } from './calc/facts/assumptions.ts';
import type { Database } from '../db/schema.ts';

/**
 * The forecast of a batch on the day it is planned, with the facts and the
 * owner's assumptions it was worked from: running `decideLot` on them again
 * gives the same figures.
 */
export async function freezeForecast(
  db: Kysely<Database>,
  planned: {
    lotId: string;
    treatmentId: string | null;
    termsId: string;
    plannedOn: string;
    dryMassKg: string;
  },
  assumptions: Assumptions,
): Promise<FrozenForecast> {
  const facts = await decisionFacts(db, planned.lotId, planned.plannedOn);
  const evidence = workLot(facts, assumptions);
  await breath();
  const worked = decideLot(facts, assumptions, Number(planned.dryMassKg), evidence);
  const { decision, findings } = worked;
  const id = `${planned.treatmentId ?? 'sale'}/${planned.termsId}`;
  const chosen = decision.options.find((option) => option.id === id);
  const blocker = findings.find((finding) => finding.level === 'blocker');
  if (chosen === undefined || blocker !== undefined) {
    const why = blocker ?? findings.find((finding) => finding.level === 'warning');
    throw new Refused(
      '/treatmentId',
      `cannot be forecast with these terms on ${planned.plannedOn}. ${why?.sentence ?? 'Neither is in force on that day.'}`,
    );
  }
  return {
    shown: {
      netValue: chosen.netValue,
      goldPayableOzt: chosen.goldPayableOzt,
      silverPayableOzt: chosen.silverPayableOzt,
      chanceBestFrac: chosen.chanceBestFrac,
      sentence: decision.sentence,
      breakdown: chosen.expectedBreakdown,
    },
    basis: forecastBasis(worked, planned.treatmentId, assumptions.goldRecoveryShiftFrac),
    workedFrom: { facts, assumptions, dryMassKg: planned.dryMassKg, chosen: id, options: decision.options },
  };
}
