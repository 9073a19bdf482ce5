import { sql, type Kysely } from 'kysely';
import type { ForecastBasis } from '../../api/calc/books/batch-result.ts';
import type { Assumptions } from '../../api/calc/facts/assumptions.ts';
import { decideLot } from '../../api/calc/facts/decide-lot.ts';
import { forecastBasis } from '../../api/calc/facts/forecast-basis.ts';
import type { DecisionFacts } from '../../api/calc/facts/records.ts';
import type { Batch } from '../../api/schemas/batch.ts';
import type { Database } from '../schema.ts';

export interface BatchForecast {
  shown: Batch['forecast'];
  basis: ForecastBasis;
}

/** Bases of forecasts that were frozen before bases were kept: worked from the frozen facts, once. */
const workedBases = new Map<string, ForecastBasis>();
const MOST_KEPT = 500;

function basisFrom(
  key: string,
  workedFrom: { facts: DecisionFacts; assumptions: Assumptions; dryMassKg: string },
  treatmentId: string | null,
): ForecastBasis {
  const known = workedBases.get(key);
  if (known !== undefined) return known;
  const { facts, assumptions } = workedFrom;
  const basis = forecastBasis(
    decideLot(facts, assumptions, Number(workedFrom.dryMassKg)),
    treatmentId,
    assumptions.goldRecoveryShiftFrac,
  );
  const [oldest] = workedBases.keys();
  if (workedBases.size >= MOST_KEPT && oldest !== undefined) workedBases.delete(oldest);
  workedBases.set(key, basis);
  return basis;
}

/**
 * The frozen forecasts of some batches, with what they took of grade, recovery and price. Bases that were not kept are
 * worked from the frozen facts only where they are asked for: that takes long for many batches.
 */
export async function batchForecasts(
  db: Kysely<Database>,
  ids: readonly string[],
  { workBases }: { workBases: boolean },
): Promise<Map<string, BatchForecast>> {
  if (ids.length === 0) return new Map();
  const rows = await db
    .selectFrom('batch')
    .select([
      'id',
      'treatmentId',
      sql<Batch['forecast']>`forecast -> 'shown'`.as('shown'),
      sql<ForecastBasis | null>`forecast -> 'basis'`.as('basis'),
      sql<{
        facts?: DecisionFacts;
        assumptions: Assumptions;
        dryMassKg: string;
      } | null>`case when ${workBases} and forecast -> 'basis' is null then forecast -> 'workedFrom' end`.as(
        'workedFrom',
      ),
      sql<string>`md5(forecast ->> 'shown')`.as('digest'),
    ])
    .where('id', '=', sql<string>`any(${ids}::uuid[])`)
    .execute();
  return new Map(
    rows.map(({ id, treatmentId, shown, basis, workedFrom, digest }) => [
      id,
      {
        shown,
        basis:
          basis ??
          (workedFrom?.facts === undefined
            ? { Au: null, Ag: null }
            : basisFrom(`${id} ${digest}`, { ...workedFrom, facts: workedFrom.facts }, treatmentId)),
      },
    ]),
  );
}
