import { sql, type Kysely } from 'kysely';
import type { Database } from '../schema.ts';

export interface Limit {
  /** Failures without a wait. */
  free: number;
  /** The first wait; each further failure doubles it. */
  firstWaitS: number;
  longestWaitS: number;
  /** After so long without a failure the count begins anew. */
  forgetAfterS: number;
}

const FORGOTTEN_AFTER_DAYS = 30;

/**
 * Counts a try before it is judged, so that many at once are counted too, and says how many failed since the last
 * success, this one taken for failed. While a wait runs the try is neither judged nor counted: the seconds that are
 * left of it. Kept in the database, so that several processes count together.
 */
export async function countTry(
  db: Kysely<Database>,
  key: string,
  now: Date,
  { free, firstWaitS, longestWaitS, forgetAfterS }: Limit,
): Promise<{ tries: number } | { waitS: number }> {
  const at = now.toISOString();
  const forgotten = new Date(now.getTime() - forgetAfterS * 1000).toISOString();
  const counted = await sql<{ failures: number }>`
    insert into sign_in_limit as kept (key, failures, last_at) values (${key}, 1, ${at})
    on conflict (key) do update set
      failures = case when kept.last_at < ${forgotten} then 1 else kept.failures + 1 end,
      last_at = ${at},
      blocked_until = case when kept.last_at >= ${forgotten} and kept.failures + 1 > ${free}::int
        then ${at}::timestamptz + make_interval(secs =>
          least(${firstWaitS}::float8 * power(2, least(kept.failures - ${free}::int, 30)), ${longestWaitS}::float8))
      end
    where kept.blocked_until is null or kept.blocked_until <= ${at}
    returning failures`.execute(db);
  const [row] = counted.rows;
  if (row !== undefined) return { tries: row.failures };
  const { blockedUntil } =
    (await db.selectFrom('signInLimit').select('blockedUntil').where('key', '=', key).executeTakeFirst()) ??
    {};
  const until = new Date(blockedUntil ?? at).getTime();
  return { waitS: Math.max(1, Math.ceil((until - now.getTime()) / 1000)) };
}

/** After a success nothing is held against whoever tried. */
export async function forgetTries(db: Kysely<Database>, key: string): Promise<void> {
  await db.deleteFrom('signInLimit').where('key', '=', key).execute();
}

/** Takes one try back that turned out to be none, such as that of somebody who came in. */
export async function takeBackTry(db: Kysely<Database>, key: string): Promise<void> {
  await sql`update sign_in_limit set failures = greatest(failures - 1, 0) where key = ${key}`.execute(db);
}

/** Forgets counts that nobody has added to for long, so that the table does not grow. */
export async function forgetOldTries(db: Kysely<Database>, now: Date): Promise<void> {
  const before = new Date(now.getTime() - FORGOTTEN_AFTER_DAYS * 86_400_000).toISOString();
  await db.deleteFrom('signInLimit').where('lastAt', '<', before).execute();
}
