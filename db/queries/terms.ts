import { sql, type Kysely } from 'kysely';
import type { z } from 'zod';
import { inTransaction } from './in-transaction.ts';
import { ChangedSince, NotFound } from './changed.ts';
import type { newTerms, nextTerms, TermsRecord } from '../../api/schemas/terms-record.ts';
import type { Database } from '../schema.ts';

function selectTerms(db: Kysely<Database>) {
  return db
    .selectFrom('terms')
    .innerJoin('counterparty', 'counterparty.id', 'terms.counterpartyId')
    .select([
      'terms.id',
      'terms.familyId',
      'terms.versionNumber',
      'terms.counterpartyId',
      'counterparty.name as counterpartyName',
      'terms.name',
      'terms.material',
      'terms.validFrom',
      'terms.validTo',
      'terms.body',
      sql<boolean>`not exists (select from terms as newer
        where newer.family_id = terms.family_id and newer.version_number > terms.version_number)`.as(
        'isNewest',
      ),
    ])
    .orderBy('counterparty.name')
    .orderBy('terms.name')
    .orderBy('terms.versionNumber', 'desc');
}

type Row = Awaited<ReturnType<ReturnType<typeof selectTerms>['execute']>>[number];

/** The body was checked by its schema before it was stored. */
function recordOf(row: Row): TermsRecord {
  return { ...row, body: row.body as TermsRecord['body'] };
}

export async function listTerms(db: Kysely<Database>): Promise<TermsRecord[]> {
  return (await selectTerms(db).execute()).map(recordOf);
}

/**
 * The contracts in force on a day. The newest version that has begun stands for its contract: once it has ended,
 * the contract has, whatever an earlier version without an end says.
 */
export async function termsInForce(db: Kysely<Database>, on: string): Promise<TermsRecord[]> {
  const rows = await selectTerms(db).where('terms.validFrom', '<=', on).execute();
  const newest = new Map<string, TermsRecord>();
  for (const row of rows) if (!newest.has(row.familyId)) newest.set(row.familyId, recordOf(row));
  return [...newest.values()].filter(({ validTo }) => validTo === null || validTo >= on);
}

export async function findTerms(db: Kysely<Database>, id: string): Promise<TermsRecord> {
  const row = await selectTerms(db).where('terms.id', '=', id).executeTakeFirst();
  if (row === undefined) throw new NotFound('terms');
  return recordOf(row);
}

async function insertVersion(
  db: Kysely<Database>,
  fields: z.infer<typeof newTerms>,
  familyId: string,
  versionNumber: number,
): Promise<TermsRecord> {
  const id = crypto.randomUUID();
  await db
    .insertInto('terms')
    .values({
      id,
      familyId,
      versionNumber,
      counterpartyId: fields.counterpartyId,
      name: fields.name,
      material: fields.body.material,
      validFrom: fields.validFrom,
      validTo: fields.validTo,
      body: JSON.stringify(fields.body),
    })
    .execute();
  return findTerms(db, id);
}

export async function insertTerms(
  db: Kysely<Database>,
  fields: z.infer<typeof newTerms>,
): Promise<TermsRecord> {
  return insertVersion(db, fields, crypto.randomUUID(), 1);
}

/** The unique version number is what refuses two people who both follow the same version. */
export async function insertNextTerms(
  db: Kysely<Database>,
  id: string,
  fields: z.infer<typeof nextTerms>,
): Promise<TermsRecord> {
  const { afterVersionNumber, ...next } = fields;
  return inTransaction(db, async (trx) => {
    const before = await findTerms(trx, id);
    if (!before.isNewest || before.versionNumber !== afterVersionNumber)
      throw new ChangedSince('The contract');
    return insertVersion(trx, next, before.familyId, afterVersionNumber + 1);
  });
}
