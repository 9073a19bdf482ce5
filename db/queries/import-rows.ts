import { sql, type Kysely } from 'kysely';
import type { Database } from '../schema.ts';

/** Keeps new rows of an import, the first of them at a place, until all of them go into the books. */
export async function stageRows(
  db: Kysely<Database>,
  { importId, place, entries }: { importId: string; place: number; entries: readonly unknown[] },
): Promise<void> {
  if (entries.length === 0) return;
  await sql`
    insert into import_row (import_id, place, entry)
    select ${importId}::uuid, ${place}::integer + at::integer - 1, entry
    from jsonb_array_elements(${JSON.stringify(entries)}::jsonb) with ordinality as one (entry, at)`.execute(
    db,
  );
}

/** The rows that an import keeps, in order, so many at a time. */
export async function* stagedRows<Row>(
  db: Kysely<Database>,
  importId: string,
  size: number,
): AsyncGenerator<Row[]> {
  for (let from = 0; ; from += size) {
    const rows = await db
      .selectFrom('importRow')
      .select('entry')
      .where('importId', '=', importId)
      .where('place', '>=', from)
      .where('place', '<', from + size)
      .orderBy('place')
      .execute();
    if (rows.length === 0) return;
    yield rows.map(({ entry }) => entry as Row);
  }
}

export async function forgetStagedRows(db: Kysely<Database>, importId: string): Promise<void> {
  await db.deleteFrom('importRow').where('importId', '=', importId).execute();
}

/**
 * Takes away what imports left that ended with their program: of every import at the start of a program that has the
 * books for itself, otherwise of those that have added nothing for an hour.
 */
export async function forgetDeadImports(
  db: Kysely<Database>,
  { isAlone }: { isAlone: boolean },
): Promise<void> {
  if (isAlone) await db.deleteFrom('importRow').execute();
  else
    await sql`delete from import_row where import_id in (
      select import_id from import_row group by import_id having max(staged_at) < now() - interval '1 hour')`.execute(
      db,
    );
}
