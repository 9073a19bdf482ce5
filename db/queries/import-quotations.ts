import { sql, type Kysely } from 'kysely';
import type { Quotation } from '../../api/schemas/supply.ts';
import type { Database } from '../schema.ts';

/** The quotations that are recorded under the keys of these. */
export async function recordedQuotations(
  db: Kysely<Database>,
  keys: readonly Quotation[],
): Promise<Quotation[]> {
  const { rows } = await sql<Quotation>`
    select quotation.* from quotation
    join unnest(${keys.map((key) => key.metal)}::text[], ${keys.map((key) => key.currency)}::text[],
      ${keys.map((key) => key.unit)}::text[], ${keys.map((key) => key.quotedOn)}::date[])
      as wanted (metal, currency, unit, quoted_on)
    using (metal, currency, unit, quoted_on)`.execute(db);
  return rows;
}

/** Enters quotations that an import has staged, from one place to before another. */
export async function insertStagedQuotations(
  trx: Kysely<Database>,
  importId: string,
  { from, to }: { from: number; to: number },
): Promise<void> {
  await sql`
    insert into quotation (metal, quoted_on, price, currency, unit, source)
    select entry ->> 'metal', (entry ->> 'quotedOn')::date, (entry ->> 'price')::numeric, entry ->> 'currency',
      entry ->> 'unit', entry ->> 'source'
    from import_row where import_id = ${importId} and place >= ${from} and place < ${to} order by place`.execute(
    trx,
  );
}
