import { sql, type Kysely, type RawBuilder } from 'kysely';
import type { AuditQuery } from '../../api/schemas/audit.ts';
import type { Database } from '../schema.ts';

/** What one request, or one step of the program, wrote in one transaction, as far as it fits what was asked for. */
export interface AuditStep {
  transactionId: string;
  requestId: string | null;
  /** Of its last entry. */
  last: string;
  count: string;
}

type Condition = RawBuilder<boolean>;

/**
 * The newest steps before one, newest first. The entries of a step follow each other in the chain, because a
 * transaction is chained as a whole; so that each step leads to the one before it by an index, however much was
 * changed in all.
 */
export async function newestSteps(
  db: Kysely<Database>,
  { before, limit, ...wanted }: AuditQuery & { limit: number },
): Promise<AuditStep[]> {
  const fits = fitting(wanted);
  const newest = (below: RawBuilder<unknown>): RawBuilder<unknown> => {
    const under = (whose: Condition): RawBuilder<unknown> => sql`
      (select sequence, transaction_id, request_id from audit_entry
        where ${whose} and ${fits} and sequence < ${below} order by sequence desc limit 1)`;
    const found =
      wanted.record === undefined
        ? under(sql`true`)
        : sql`${under(sql`record_id = ${wanted.record}`)} union all ${under(sql`owner_id = ${wanted.record}`)}`;
    return sql`(select * from (${found}) as either order by sequence desc limit 1)`;
  };
  const begin = (step: string): RawBuilder<unknown> => sql`
    (select min(own.sequence) from audit_entry as own where own.transaction_id = ${sql.ref(`${step}.transaction_id`)}
      and own.request_id is not distinct from ${sql.ref(`${step}.request_id`)})`;
  const top =
    before === undefined
      ? sql`9223372036854775807`
      : sql`coalesce((select ${begin('seen')} from audit_entry as seen where seen.sequence = ${before}::bigint),
          ${before}::bigint)`;
  const isOfRecord =
    wanted.record === undefined
      ? sql<boolean>`true`
      : sql<boolean>`(record_id = ${wanted.record} or owner_id = ${wanted.record})`;
  const { rows } = await sql<AuditStep>`
    with recursive step as (
      select one.*, 1 as place from ${newest(top)} as one
      union all
      select next.*, step.place + 1 from step cross join lateral ${newest(begin('step'))} as next
        where step.place < ${limit}
    )
    select transaction_id, request_id, sequence as last, (
        select count(*) from audit_entry where transaction_id = step.transaction_id
          and request_id is not distinct from step.request_id and ${isOfRecord} and ${fits}
      ) as count
      from step order by sequence desc`.execute(db);
  return rows;
}

/** The first entries of each of some steps that fit what was asked for, step by step. */
export async function entriesOfSteps<Entry>(
  db: Kysely<Database>,
  steps: readonly AuditStep[],
  { record, ...wanted }: AuditQuery,
  entriesEach: number,
): Promise<Entry[][]> {
  const isOfRecord = record === undefined ? sql`true` : sql`(record_id = ${record} or owner_id = ${record})`;
  const { rows } = await sql<Entry & { place: string }>`
    select one.*, step.place from unnest(${steps.map(({ transactionId }) => transactionId)}::text[],
        ${steps.map(({ requestId }) => requestId)}::text[]) with ordinality as step (transaction_id, request_id, place)
      cross join lateral (
        select * from audit_entry where transaction_id = step.transaction_id
          and request_id is not distinct from step.request_id and ${isOfRecord} and ${fitting(wanted)}
          order by sequence limit ${entriesEach}
      ) as one
      order by step.place, one.sequence`.execute(db);
  const groups: Entry[][] = steps.map(() => []);
  for (const row of rows) groups[Number(row.place) - 1]?.push(row);
  return groups;
}

/**
 * What is asked for of an entry, the record apart. An entry is chained when its transaction commits, which takes less
 * than a day: so days are a stretch of the chain, looked up by the index of the times at its two ends.
 */
function fitting({ actor, from, to }: Pick<AuditQuery, 'actor' | 'from' | 'to'>): Condition {
  const conditions: Condition[] = [sql`sequence is not null`];
  if (actor !== undefined) conditions.push(sql`actor = ${actor}`);
  if (from !== undefined)
    conditions.push(
      sql`at >= ${from}::date`,
      sql`sequence >= (select min(sequence) from audit_entry as early where early.at >= ${from}::date
        and early.at < (select min(at) from audit_entry as one where one.at >= ${from}::date) + interval '1 day')`,
    );
  if (to !== undefined)
    conditions.push(
      sql`at < ${to}::date + 1`,
      sql`sequence <= (select max(sequence) from audit_entry as late where late.at < ${to}::date + 1
        and late.at > (select max(at) from audit_entry as one where one.at < ${to}::date + 1) - interval '1 day')`,
    );
  return sql`(${sql.join(conditions, sql` and `)})`;
}
