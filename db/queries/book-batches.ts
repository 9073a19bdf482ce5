import { sql, type Kysely } from 'kysely';
import { groupBy } from './group-by.ts';
import { stocksBefore } from './month-states.ts';
import { movementCosts, type LedgerBooks } from './stock-ledgers.ts';
import { leadByTreatment } from './treatment-leads.ts';
import { batchCost, type MovementCost } from '../../api/calc/books/batch-cost.ts';
import type { BookBatch, BookSupply } from '../../api/calc/books/book-records.ts';
import type { Database } from '../schema.ts';

/** The day on which a batch's mass went into work; null while it is only planned. */
export const batchInWorkOn = sql<
  string | null
>`(case when batch.started_on is null and batch.status = 'planned' then batch.finished_on
  else coalesce(batch.started_on, batch.planned_on) end)::text`;

/** The day on which what a batch used counts. */
const batchCostOn = sql<string>`coalesce(batch.finished_on, batch.started_on, batch.planned_on)::text`;

function selectBatches(db: Kysely<Database>) {
  return db
    .selectFrom('batch')
    .innerJoin('lot', 'lot.id', 'batch.lotId')
    .innerJoin('terms', 'terms.id', 'batch.termsId')
    .innerJoin('counterparty', 'counterparty.id', 'terms.counterpartyId')
    .leftJoin('treatment', 'treatment.id', 'batch.treatmentId')
    .select([
      'batch.id',
      'batch.code',
      'batch.lotId',
      'lot.code as lotCode',
      'batch.treatmentId',
      'batch.termsId',
      'batch.decisionId',
      'batch.plannedOn',
      'treatment.name as treatmentName',
      'treatment.labourSupplyId',
      'counterparty.name as buyerName',
      'batch.status',
      batchInWorkOn.as('inWorkOn'),
      'batch.finishedOn',
      batchCostOn.as('costOn'),
      'batch.dryMassKg',
      'batch.furnaceHours',
      'batch.labourHours',
      'batch.leadInKg',
      'batch.leadBackKg',
    ])
    .where('batch.status', '<>', 'cancelled')
    .$narrowType<{ status: BookBatch['status'] }>()
    .orderBy(batchCostOn)
    .orderBy('batch.code');
}

type Row = Awaited<ReturnType<ReturnType<typeof selectBatches>['execute']>>[number];

/** What batches are costed by: the supplies, and what each movement out of their stock cost. */
export interface CostBooks {
  supplies: readonly BookSupply[];
  costs: ReadonlyMap<string, MovementCost>;
}

/**
 * Batches that are not cancelled and began, ended or were planned for a day of a range, without their forecasts, which
 * are large; their costs are worked as everywhere, by `batchCost`.
 */
export async function bookBatches(
  db: Kysely<Database>,
  { from, to }: { from: string; to: string },
  books: CostBooks,
): Promise<BookBatch[]> {
  const rows = await selectBatches(db)
    .where((where) =>
      where.or(
        (['finishedOn', 'startedOn', 'plannedOn'] as const).map((day) =>
          where.and([where(`batch.${day}`, '>=', from), where(`batch.${day}`, '<=', to)]),
        ),
      ),
    )
    .execute();
  return withCosts(db, rows, books);
}

/** Some batches, whatever their days. */
export async function bookBatchesNamed(
  db: Kysely<Database>,
  ids: readonly string[],
  books: LedgerBooks,
): Promise<BookBatch[]> {
  if (ids.length === 0) return [];
  const rows = await selectBatches(db)
    .where('batch.id', '=', sql<string>`any(${ids}::uuid[])`)
    .execute();
  return costed(db, rows, books);
}

/** The batches of a season's lots, whatever their days, and those of other lots that end in a range of days. */
export async function bookBatchesOfSeason(
  db: Kysely<Database>,
  { seasonId, from, to }: { seasonId: string; from: string; to: string },
  books: LedgerBooks,
): Promise<BookBatch[]> {
  const rows = await selectBatches(db)
    .where((where) =>
      where.or([
        where('lot.seasonId', '=', seasonId),
        where.and([where('batch.finishedOn', '>=', from), where('batch.finishedOn', '<=', to)]),
      ]),
    )
    .execute();
  return costed(db, rows, books);
}

/** With the costs of the stock on their own days. */
async function costed(db: Kysely<Database>, rows: Row[], books: LedgerBooks): Promise<BookBatch[]> {
  const [first, last] = [rows[0], rows.at(-1)];
  if (first === undefined || last === undefined) return [];
  const from = await stocksBefore(db, books, first.costOn);
  const costs = await movementCosts(db, books, { from, upTo: last.costOn });
  return withCosts(db, rows, { supplies: books.supplies, costs });
}

async function withCosts(
  db: Kysely<Database>,
  rows: readonly Row[],
  { supplies, costs }: CostBooks,
): Promise<BookBatch[]> {
  if (rows.length === 0) return [];
  const consumption = groupBy(
    await db
      .selectFrom('batchConsumption')
      .innerJoin('supply', 'supply.id', 'batchConsumption.supplyId')
      .select(['batchId', 'supplyId', 'quantity'])
      .where('batchId', '=', sql<string>`any(${rows.map(({ id }) => id)}::uuid[])`)
      .orderBy('supply.name')
      .execute(),
    (row) => row.batchId,
  );
  const leads = await leadByTreatment(db, supplies);
  return rows.map(({ labourSupplyId, ...row }) => ({
    ...row,
    cost: batchCost(
      {
        ...row,
        labourSupplyId,
        pricedOn: row.costOn,
        consumption: consumption.get(row.id) ?? [],
        leadSupplyId: leads.get(row.treatmentId ?? '') ?? null,
      },
      supplies,
      costs,
    ),
  }));
}
