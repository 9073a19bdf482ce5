import type { Kysely } from 'kysely';
import type { ExchangeRate } from '../../api/schemas/expense.ts';
import type { Database } from '../schema.ts';
import { NotFound } from './changed.ts';

/** Newest first. */
export async function listExchangeRates(
  db: Kysely<Database>,
  filter: { currency?: string | undefined; from?: string | undefined; to?: string | undefined },
  limit: number,
): Promise<ExchangeRate[]> {
  let query = db
    .selectFrom('exchangeRate')
    .selectAll()
    .orderBy('ratedOn', 'desc')
    .orderBy('currency')
    .limit(limit);
  if (filter.currency !== undefined) query = query.where('currency', '=', filter.currency);
  if (filter.from !== undefined) query = query.where('ratedOn', '>=', filter.from);
  if (filter.to !== undefined) query = query.where('ratedOn', '<=', filter.to);
  return query.execute();
}

/** One rate a currency and day: a second one corrects the first. */
export async function putExchangeRate(db: Kysely<Database>, rate: ExchangeRate): Promise<ExchangeRate> {
  return db
    .insertInto('exchangeRate')
    .values(rate)
    .onConflict((conflict) =>
      conflict.columns(['currency', 'ratedOn']).doUpdateSet({ rate: rate.rate, source: rate.source }),
    )
    .returningAll()
    .executeTakeFirstOrThrow();
}

export async function deleteExchangeRate(
  db: Kysely<Database>,
  key: Pick<ExchangeRate, 'currency' | 'ratedOn'>,
): Promise<void> {
  const { numDeletedRows } = await db
    .deleteFrom('exchangeRate')
    .where('currency', '=', key.currency)
    .where('ratedOn', '=', key.ratedOn)
    .executeTakeFirst();
  if (numDeletedRows === 0n) throw new NotFound('exchange rate');
}
