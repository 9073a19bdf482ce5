import { sql, type Kysely } from 'kysely';
import type { Terms } from '../../api/calc/terms/terms.ts';
import type { Database } from '../schema.ts';

/** Moisture of lots, by id. */
export async function lotMoistures(
  db: Kysely<Database>,
  lotIds: readonly string[],
): Promise<Map<string, number>> {
  const rows = await db
    .selectFrom('lot')
    .select(['id', sql<number>`moisture_frac::float8`.as('moistureFrac')])
    .where('id', '=', sql<string>`any(${lotIds}::uuid[])`)
    .execute();
  return new Map(rows.map(({ id, moistureFrac }) => [id, moistureFrac]));
}

/** By what terms, and after what recovery, a batch's metal is sold. */
export interface BatchTerms {
  batchId: string;
  lotId: string;
  plannedOn: string;
  termsId: string;
  goldRecoveryFrac: number | null;
  silverRecoveryFrac: number | null;
}

/** Of all batches that are not cancelled, the earliest planned first, with the terms that they name. */
export async function batchTerms(
  db: Kysely<Database>,
  to: string,
): Promise<{ batches: BatchTerms[]; terms: Map<string, Terms> }> {
  const batches = await db
    .selectFrom('batch')
    .leftJoin('treatment', 'treatment.id', 'batch.treatmentId')
    .select([
      'batch.id as batchId',
      'batch.lotId',
      'batch.plannedOn',
      'batch.termsId',
      sql<number | null>`treatment.gold_recovery_mean_frac::float8`.as('goldRecoveryFrac'),
      sql<number | null>`treatment.silver_recovery_mean_frac::float8`.as('silverRecoveryFrac'),
    ])
    .where('batch.status', '<>', 'cancelled')
    .where('batch.plannedOn', '<=', to)
    .orderBy('batch.plannedOn')
    .orderBy('batch.code')
    .execute();
  const rows = await db
    .selectFrom('terms')
    .select(['id', 'body'])
    .where('id', 'in', (ids) => ids.selectFrom('batch').select('termsId').distinct())
    .execute();
  return { batches, terms: new Map(rows.map(({ id, body }) => [id, body as Terms])) };
}
