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

export async function insertQuotations(
  trx: Kysely<Database>,
  quotations: readonly Quotation[],
): Promise<void> {
  await sql`
    insert into quotation (metal, quoted_on, price, currency, unit, source)
    select * from unnest(${quotations.map((one) => one.metal)}::text[],
      ${quotations.map((one) => one.quotedOn)}::date[], ${quotations.map((one) => one.price)}::numeric[],
      ${quotations.map((one) => one.currency)}::text[], ${quotations.map((one) => one.unit)}::text[],
      ${quotations.map((one) => one.source)}::text[])`.execute(trx);
}
