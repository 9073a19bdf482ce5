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
    .selectFrom('batchForecast')
    .select([
      'batchId',
      sql<Batch['forecast']>`shown`.as('shown'),
      sql<ForecastBasis | null>`basis`.as('basis'),
    ])
    .where('batchId', '=', sql<string>`any(${ids}::uuid[])`)
    .execute();
  const unknown = rows.flatMap(({ batchId, basis }) => (basis === null ? [batchId] : []));
  const worked = workBases ? await basesOf(db, unknown) : new Map<string, ForecastBasis>();
  return new Map(
    rows.map(({ batchId, shown, basis }) => [
      batchId,
      { shown, basis: basis ?? worked.get(batchId) ?? { Au: null, Ag: null } },
    ]),
  );
}

/** Bases that were not kept, from all that the forecasts were worked from. */
async function basesOf(db: Kysely<Database>, ids: readonly string[]): Promise<Map<string, ForecastBasis>> {
  if (ids.length === 0) return new Map();
  const rows = await db
    .selectFrom('batch')
    .select([
      'id',
      'treatmentId',
      sql<{
        facts?: DecisionFacts;
        assumptions: Assumptions;
        dryMassKg: string;
      }>`forecast -> 'workedFrom'`.as('workedFrom'),
      sql<string>`md5(forecast ->> 'shown')`.as('digest'),
    ])
    .where('id', '=', sql<string>`any(${ids}::uuid[])`)
    .execute();
  return new Map(
    rows.flatMap(({ id, treatmentId, workedFrom: { facts, ...workedFrom }, digest }) =>
      facts === undefined ? [] : [[id, basisFrom(`${id} ${digest}`, { ...workedFrom, facts }, treatmentId)]],
    ),
  );
}
