import { sql, type Kysely } from 'kysely';
import type { ImportedFile } from '../../api/schemas/import.ts';
import type { Database } from '../schema.ts';

/**
 * Lets one import at a time compare its rows with the books and write: a second one waits here for the first
 * to end, and then finds its rows recorded. To be called inside a transaction.
 */
export async function waitForOtherImports(trx: Kysely<Database>): Promise<void> {
  await sql`lock table imported_file in share row exclusive mode`.execute(trx);
}

export async function insertImportedFile(
  trx: Kysely<Database>,
  fields: Omit<ImportedFile, 'id' | 'importedAt'>,
): Promise<ImportedFile> {
  return trx
    .insertInto('importedFile')
    .values({ id: crypto.randomUUID(), ...fields })
    .returningAll()
    .executeTakeFirstOrThrow();
}

/** Newest first. */
export async function listImportedFiles(db: Kysely<Database>, limit: number): Promise<ImportedFile[]> {
  return db.selectFrom('importedFile').selectAll().orderBy('importedAt', 'desc').limit(limit).execute();
}

/** The last import of a file with this content, as this kind. */
export async function findImportOf(
  db: Kysely<Database>,
  { kind, sha256 }: Pick<ImportedFile, 'kind' | 'sha256'>,
): Promise<ImportedFile | undefined> {
  return db
    .selectFrom('importedFile')
    .selectAll()
    .where('kind', '=', kind)
    .where('sha256', '=', sha256)
    .orderBy('importedAt', 'desc')
    .limit(1)
    .executeTakeFirst();
}

/** The newest entry of the audit: what is committed later comes after it. */
export async function lastChange(db: Kysely<Database>): Promise<string> {
  const { sequence } = await db.selectFrom('auditHead').select('sequence').executeTakeFirstOrThrow();
  return sequence;
}

/** Whether anything in some tables was changed after an entry of the audit. */
export async function isChangedSince(
  db: Kysely<Database>,
  sequence: string,
  tables: readonly string[],
): Promise<boolean> {
  const found = await db
    .selectFrom('auditEntry')
    .select('id')
    .where('sequence', '>', sequence)
    .where('tableName', 'in', tables)
    .limit(1)
    .executeTakeFirst();
  return found !== undefined;
}
