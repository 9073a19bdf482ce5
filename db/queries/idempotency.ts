import { sql, type Kysely } from 'kysely';
import type { Database } from '../schema.ts';

export interface KeptAnswer {
  requestSha256: string;
  status: number;
  contentType: string | null;
  body: string;
}

/** How long an answer is kept for whoever sends the same request again. */
const KEPT_DAYS = 7;
/** Of answers past their time, so many are removed with each new one. */
const REMOVED_AT_ONCE = 50;

/** Takes a key for this transaction; false while another transaction, of any process, works under it. */
export async function takeKey(trx: Kysely<Database>, account: string, key: string): Promise<boolean> {
  const { rows } = await sql<{ taken: boolean }>`
    select pg_try_advisory_xact_lock(hashtextextended(${JSON.stringify([account, key])}, 7031105)) as taken`.execute(
    trx,
  );
  return rows[0]?.taken === true;
}

/** The answer that was given under a key within the last days. */
export async function keptAnswer(
  trx: Kysely<Database>,
  account: string,
  key: string,
): Promise<KeptAnswer | undefined> {
  return trx
    .selectFrom('idempotency')
    .select(['requestSha256', 'status', 'contentType', 'body'])
    .where('account', '=', account)
    .where('key', '=', key)
    .where('createdAt', '>', sql<string>`now() - make_interval(days => ${KEPT_DAYS})`)
    .executeTakeFirst();
}

/** Keeps an answer, and lets go of some that are past their time. */
export async function keepAnswer(
  trx: Kysely<Database>,
  account: string,
  key: string,
  answer: KeptAnswer,
): Promise<void> {
  await sql`delete from idempotency where (account, key) in (
    select account, key from idempotency where created_at <= now() - make_interval(days => ${KEPT_DAYS})
    limit ${REMOVED_AT_ONCE} for update skip locked)`.execute(trx);
  await trx
    .insertInto('idempotency')
    .values({ account, key, ...answer })
    .onConflict((conflict) =>
      conflict.columns(['account', 'key']).doUpdateSet({ ...answer, createdAt: sql<string>`now()` }),
    )
    .execute();
}
