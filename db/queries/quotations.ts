import type { Kysely } from 'kysely';
import { NotFound } from './changed.ts';
import type { Quotation } from '../../api/schemas/supply.ts';
import type { Database } from '../schema.ts';

export interface QuotationFilter {
  metal?: string | undefined;
  from?: string | undefined;
  to?: string | undefined;
}

/** Newest first. */
export async function listQuotations(
  db: Kysely<Database>,
  filter: QuotationFilter,
  limit: number,
): Promise<Quotation[]> {
  let query = db
    .selectFrom('quotation')
    .selectAll()
    .orderBy('quotedOn', 'desc')
    .orderBy('metal')
    .limit(limit);
  if (filter.metal !== undefined) query = query.where('metal', '=', filter.metal);
  if (filter.from !== undefined) query = query.where('quotedOn', '>=', filter.from);
  if (filter.to !== undefined) query = query.where('quotedOn', '<=', filter.to);
  return query.execute();
}

/** The last quotation of every metal, currency and unit on or before a day. */
export async function latestQuotations(db: Kysely<Database>, on: string): Promise<Quotation[]> {
  return db
    .selectFrom('quotation')
    .selectAll()
    .distinctOn(['metal', 'currency', 'unit'])
    .where('quotedOn', '<=', on)
    .orderBy('metal')
    .orderBy('currency')
    .orderBy('unit')
    .orderBy('quotedOn', 'desc')
    .execute();
}

/** One metal's quotations in one currency and unit, oldest first; those after `to` are left out. */
export async function quotationSeries(
  db: Kysely<Database>,
  series: Pick<Quotation, 'metal' | 'currency' | 'unit'> & { to: string | null },
): Promise<{ date: string; price: string }[]> {
  let query = db
    .selectFrom('quotation')
    .select(['quotedOn as date', 'price'])
    .where('metal', '=', series.metal)
    .where('currency', '=', series.currency)
    .where('unit', '=', series.unit)
    .orderBy('quotedOn');
  if (series.to !== null) query = query.where('quotedOn', '<=', series.to);
  return query.execute();
}

/** One quotation a metal, currency, unit and day: a second one corrects the first. */
export async function putQuotation(db: Kysely<Database>, quotation: Quotation): Promise<Quotation> {
  return db
    .insertInto('quotation')
    .values(quotation)
    .onConflict((conflict) =>
      conflict
        .columns(['metal', 'currency', 'unit', 'quotedOn'])
        .doUpdateSet({ price: quotation.price, source: quotation.source }),
    )
    .returningAll()
    .executeTakeFirstOrThrow();
}

export async function deleteQuotation(
  db: Kysely<Database>,
  key: Pick<Quotation, 'metal' | 'currency' | 'unit' | 'quotedOn'>,
): Promise<void> {
  const { numDeletedRows } = await db
    .deleteFrom('quotation')
    .where('metal', '=', key.metal)
    .where('currency', '=', key.currency)
    .where('unit', '=', key.unit)
    .where('quotedOn', '=', key.quotedOn)
    .executeTakeFirst();
  if (numDeletedRows === 0n) throw new NotFound('quotation');
}
