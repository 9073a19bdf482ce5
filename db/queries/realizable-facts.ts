import { sql, type Kysely } from 'kysely';
import type { Terms } from '../../api/calc/terms/terms.ts';
import type { Database } from '../schema.ts';

/** What of a lot's metal is known without inference: what its test smelts gave, and its assays. g/t; null where none. */
export interface LotMetal {
  lotId: string;
  smeltedGoldGpt: number | null;
  smeltedSilverGpt: number | null;
  assayedGoldGpt: number | null;
  assayedSilverGpt: number | null;
  moistureFrac: number;
}

export async function lotMetals(db: Kysely<Database>): Promise<LotMetal[]> {
  const { rows } = await sql<LotMetal>`
    select lot.id as "lotId", lot.moisture_frac::float8 as "moistureFrac",
      smelted.gold as "smeltedGoldGpt", smelted.silver as "smeltedSilverGpt",
      assayed.gold as "assayedGoldGpt", assayed.silver as "assayedSilverGpt"
    from lot
    left join (
      select trial.lot_id,
        (1000 * sum(parted_gold_mg) / sum(sample_mass_g))::float8 as gold,
        (1000 * sum(greatest(bead_mg - parted_gold_mg - coalesce(inquart_silver_mg, 0), 0))
          / sum(sample_mass_g))::float8 as silver
      from test_smelt join trial on trial.id = trial_id
      where set_aside_reason is null and bead_mg is not null and parted_gold_mg is not null
      group by trial.lot_id
    ) smelted on smelted.lot_id = lot.id
    left join (
      select lot_id,
        avg(case when element = 'Au' then value * case unit when 'percent' then 10000 else 1 end end)::float8 as gold,
        avg(case when element = 'Ag' then value * case unit when 'percent' then 10000 else 1 end end)::float8 as silver
      from lab_assay group by lot_id
    ) assayed on assayed.lot_id = lot.id`.execute(db);
  return rows;
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
