import { sql } from 'kysely';
import { verifyAudit } from '../../db/audit/verify.ts';
import type { OpenDatabase } from '../../db/open.ts';
import type { Acknowledged } from './writing-load.ts';

export interface Loss {
  acknowledged: number;
  missing: number;
  halfWritten: number;
  auditFaults: string[];
}

/** Holds what is in the books against what was acknowledged. */
export async function lossOf(
  { db }: Pick<OpenDatabase, 'db'>,
  { lots, smelts }: Acknowledged,
): Promise<Loss> {
  const idsOf = async (table: 'lot' | 'test_smelt'): Promise<Set<string>> => {
    const { rows } = await sql<{ id: string }>`select id from ${sql.id(table)}`.execute(db);
    return new Set(rows.map(({ id }) => id));
  };
  const [lotIds, smeltIds] = [await idsOf('lot'), await idsOf('test_smelt')];
  const missing =
    [...lots.keys()].filter((id) => !lotIds.has(id)).length +
    [...smelts.keys()].filter((id) => !smeltIds.has(id)).length;

  // Whether acknowledged or not, what is there is there whole: with its parts, its answer kept and its audit.
  const { rows } = await sql<{ count: string }>`
    select (select count(*) from lot where code like 'K-%' and
        (select count(*) from lot_mineral where lot_id = lot.id) <> 2)
      + (select count(*) from test_smelt where
        (select count(*) from test_smelt_reagent where test_smelt_id = test_smelt.id) <> 3)
      + (select count(*) from trial where not exists (select 1 from test_smelt where trial_id = trial.id))
      + (select count(*) from balance where name like 'Scale %' and
        not exists (select 1 from test_smelt where sample_balance_id = balance.id))
      + (select count(*) from test_smelt where not exists
        (select 1 from audit_entry where table_name = 'test_smelt' and record_id = test_smelt.id::text))
      + abs((select count(*) from lot) + (select count(*) from test_smelt) - (select count(*) from idempotency))
      as count`.execute(db);
  return {
    acknowledged: lots.size + smelts.size,
    missing,
    halfWritten: Number(rows[0]?.count),
    auditFaults: (await verifyAudit(db)).faults,
  };
}
