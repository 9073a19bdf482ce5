import { sql, type Kysely } from 'kysely';
import { inTransaction } from './in-transaction.ts';
import type { Database } from '../schema.ts';

/** Whoever changes records holds it shared until the change is committed (migration 0006-kept-figures). */
const LOCK = 7_031_106;

/** How often records have changed; null while somebody is changing some. */
async function changesSoFar(db: Kysely<Database>): Promise<string | null> {
  const { rows } = await sql<{ count: string | null }>`
    select case when pg_try_advisory_xact_lock(${LOCK}) then last_value::text end as count
    from kept_figures_change`.execute(db);
  return rows[0]?.count ?? null;
}

/**
 * Works figures out from the records and keeps them, unless records were changed meanwhile: then they are only given.
 * So what is kept is never older than what it was worked from. Nothing is kept within a transaction, which may be
 * undone and would have others wait.
 */
export async function workAndKeep<Figures>(
  db: Kysely<Database>,
  work: () => Promise<Figures>,
  keep: (trx: Kysely<Database>, figures: Figures) => Promise<void>,
): Promise<{ figures: Figures; kept: boolean }> {
  const before = db.isTransaction ? null : await changesSoFar(db);
  const figures = await work();
  if (before === null) return { figures, kept: false };
  const kept = await inTransaction(db, async (trx) => {
    if ((await changesSoFar(trx)) !== before) return false;
    await keep(trx, figures);
    return true;
  });
  return { figures, kept };
}

/** All that is worked from records and kept. */
const KEPT = ['lotGrade', 'lotRecovery', 'monthState', 'monthBook', 'monthPlace'] as const;

/** Throws away what another program kept: it may have worked it otherwise. Says whether there was any such. */
export async function forgetOthersFigures(db: Kysely<Database>, program: string): Promise<boolean> {
  return inTransaction(db, async (trx) => {
    await sql`select records_change()`.execute(trx);
    const known = await trx.selectFrom('keptBy').select('program').executeTakeFirst();
    if (known?.program === program) return false;
    for (const table of KEPT) await trx.deleteFrom(table).execute();
    await trx
      .insertInto('keptBy')
      .values({ program })
      .onConflict((conflict) => conflict.column('onlyOne').doUpdateSet({ program }))
      .execute();
    return true;
  });
}
