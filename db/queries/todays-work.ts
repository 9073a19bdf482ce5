import { sql, type Kysely, type SelectQueryBuilder } from 'kysely';
import { listBatches } from './batches.ts';
import { lotLeftKg } from './material-sources.ts';
import { findMill } from './mill.ts';
import { sumOf } from '../../api/calc/money.ts';
import type { Today, WaitingBatch, WaitingStatement } from '../../api/schemas/today.ts';
import type { Database } from '../schema.ts';

/** Of each kind of work so much is listed. */
const LISTED = 20;

/** The first rows of a query, and how many it has. */
async function firstOf<Tables, Names extends keyof Tables, Row>(
  query: SelectQueryBuilder<Tables, Names, Row>,
): Promise<{ first: Row[]; count: number }> {
  const { count } = await query
    .clearSelect()
    .clearOrderBy()
    .select(sql<string>`count(*)`.as('count'))
    .$castTo<{ count: string }>()
    .executeTakeFirstOrThrow();
  return { first: await query.limit(LISTED).execute(), count: Number(count) };
}

function batchesWaiting(db: Kysely<Database>, status: 'planned' | 'running' | 'done') {
  return db
    .selectFrom('batch')
    .innerJoin('lot', 'lot.id', 'batch.lotId')
    .innerJoin('terms', 'terms.id', 'batch.termsId')
    .innerJoin('counterparty', 'counterparty.id', 'terms.counterpartyId')
    .leftJoin('treatment', 'treatment.id', 'batch.treatmentId')
    .select([
      'batch.id',
      'batch.code',
      'lot.code as lotCode',
      'treatment.name as treatmentName',
      'counterparty.name as counterpartyName',
      'batch.dryMassKg',
      'batch.plannedOn',
      'batch.startedOn',
      'batch.finishedOn',
    ])
    .where('batch.status', '=', status)
    .orderBy('batch.plannedOn')
    .orderBy('batch.code')
    .$castTo<WaitingBatch>();
}

function statementsWaiting(db: Kysely<Database>) {
  return db
    .selectFrom('statement')
    .innerJoin('product', 'product.id', 'statement.productId')
    .innerJoin('terms', 'terms.id', 'statement.termsId')
    .innerJoin('counterparty', 'counterparty.id', 'terms.counterpartyId')
    .select([
      'statement.id',
      'statement.number',
      'statement.stage',
      'product.code as productCode',
      'counterparty.name as counterpartyName',
      'statement.total',
      'statement.currency',
      'statement.issuedOn',
    ])
    .orderBy('statement.issuedOn')
    .orderBy('statement.createdAt')
    .$castTo<WaitingStatement>();
}

/** Where the season of a day stands: what has come in so far, and what is left to work up. */
async function seasonStanding(db: Kysely<Database>, on: string): Promise<Today['season']> {
  const season = await db
    .selectFrom('season')
    .select(['id', 'name'])
    .orderBy(sql`(starts_on <= ${on} and ${on} <= ends_on)`, 'desc')
    .orderBy('startsOn', 'desc')
    .executeTakeFirst();
  if (season === undefined) return null;
  const lots = await db
    .selectFrom('lot')
    .select([
      sql<string>`count(*)`.as('count'),
      sql<string>`coalesce(trim_scale(sum(${lotLeftKg})), 0)`.as('leftKg'),
    ])
    .where('seasonId', '=', season.id)
    .executeTakeFirstOrThrow();
  const made = await db
    .selectFrom('batch')
    .innerJoin('lot', 'lot.id', 'batch.lotId')
    .select(sql<string>`count(*)`.as('count'))
    .where('lot.seasonId', '=', season.id)
    .where('batch.status', '<>', 'cancelled')
    .executeTakeFirstOrThrow();
  const { currency } = await findMill(db);
  const settled = (await listBatches(db, { seasonId: season.id, settled: true })).flatMap((batch) =>
    batch.status === 'cancelled' || batch.currency !== currency ? [] : (batch.actualNetValue ?? []),
  );
  return {
    ...season,
    lots: Number(lots.count),
    leftKg: lots.leftKg,
    batches: Number(made.count),
    settled: settled.length,
    netValue: sumOf(settled).toFixed(2),
  };
}

/** Where the season stands on a day, and what is waiting for somebody to do something. */
export async function todaysWork(db: Kysely<Database>, on: string): Promise<Today> {
  const has = async (table: 'lot' | 'testSmelt' | 'batch'): Promise<boolean> =>
    (await db.selectFrom(table).select('id').limit(1).executeTakeFirst()) !== undefined;
  const issuedAfter = sql<boolean>`exists (select 1 from statement as later
    where later.supersedes_id = statement.id and later.status = 'issued')`;
  const anyIssued = sql<boolean>`exists (select 1 from statement join product on product.id = statement.product_id
    where product.batch_id = batch.id and statement.status = 'issued')`;
  return {
    entered: { lot: await has('lot'), testSmelt: await has('testSmelt'), batch: await has('batch') },
    season: await seasonStanding(db, on),
    running: await firstOf(batchesWaiting(db, 'running')),
    planned: await firstOf(batchesWaiting(db, 'planned')),
    unsettled: await firstOf(batchesWaiting(db, 'done').where(sql<boolean>`not ${anyIssued}`)),
    drafts: await firstOf(statementsWaiting(db).where('statement.status', '=', 'draft')),
    provisional: await firstOf(
      statementsWaiting(db)
        .where('statement.status', '=', 'issued')
        .where('statement.stage', 'in', ['provisional', 'second-provisional'])
        .where(sql<boolean>`not ${issuedAfter}`),
    ),
    lotsLeft: await firstOf(
      db
        .selectFrom('lot')
        .select(['lot.id', 'lot.code', lotLeftKg.as('leftKg')])
        .where(sql<boolean>`${lotLeftKg} > 0`)
        .orderBy('lot.madeOn')
        .orderBy('lot.code'),
    ),
  };
}
