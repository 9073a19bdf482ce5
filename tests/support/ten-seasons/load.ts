import { sql, type Kysely } from 'kysely';
import { seasonRows, SEASON_SIZE, type SeasonRows, type Shared } from './records.ts';
import { inventedQuotations } from '../../../api/demo/invented-quotations.ts';
import { settle } from '../../../api/calc/settlement/settle.ts';
import { inTransaction } from '../../../db/queries/in-transaction.ts';
import type { KeptInput } from '../../../db/queries/statements.ts';
import type { Database } from '../../../db/schema.ts';

const ROWS_AT_ONCE = 400;

/**
 * Fills a database that holds the demo season with so many more invented ones before it, each as large as a mill
 * that works every day makes it. Straight into the tables: through the API it would take hours.
 */
export async function loadSeasons(
  db: Kysely<Database>,
  { seasons, lastYear, size = SEASON_SIZE }: { seasons: number; lastYear: number; size?: typeof SEASON_SIZE },
): Promise<void> {
  const shared = await sharedRecords(db);
  const first = lastYear - seasons + 1;
  await insert(db, { quotation: inventedQuotations(`${first - 1}-10-01`, `${lastYear}-09-30`) });
  for (let year = first; year <= lastYear; year += 1) await insert(db, seasonRows(year, shared, size));
}

/**
 * Table by table, in the order in which they are listed. Each lot of rows is a transaction of its own: the audit's
 * chain takes ever longer the more a single transaction writes.
 */
async function insert(db: Kysely<Database>, rows: SeasonRows): Promise<void> {
  for (const [table, all] of Object.entries(rows) as [keyof Database, never[]][]) {
    for (let from = 0; from < all.length; from += ROWS_AT_ONCE)
      await inTransaction(db, async (trx) => {
        await trx
          .insertInto(table)
          .values(all.slice(from, from + ROWS_AT_ONCE))
          .execute();
      });
    // What triggers have planned for an empty table is slow on a full one; this has them plan anew.
    await sql`analyze ${sql.table(table)}`.execute(db);
  }
}

/** What the invented seasons lean on, out of the demo: its supplies, treatments, refiner and one final statement. */
async function sharedRecords(db: Kysely<Database>): Promise<Shared> {
  const supplies = await db.selectFrom('supply').select(['id', 'kind', 'unit']).orderBy('name').execute();
  const treatments = await db.selectFrom('treatment').select('id').orderBy('name').execute();
  const balance = await db.selectFrom('balance').select('id').orderBy('name').executeTakeFirstOrThrow();
  const final = await db
    .selectFrom('statement')
    .innerJoin('product', 'product.id', 'statement.productId')
    .innerJoin('batch', 'batch.id', 'product.batchId')
    .innerJoin('terms', 'terms.id', 'statement.termsId')
    .select(['statement.input', 'terms.id as termsId', 'terms.counterpartyId', 'batch.forecast'])
    .where('statement.stage', '=', 'final')
    .where('product.kind', '=', 'bar')
    .executeTakeFirstOrThrow();
  const decision = await db
    .selectFrom('decision')
    .select('frozen')
    .orderBy('createdAt')
    .limit(1)
    .executeTakeFirstOrThrow();
  const template = final.input as KeptInput;
  return {
    supplies,
    treatmentIds: treatments.map(({ id }) => id),
    termsId: final.termsId,
    counterpartyId: final.counterpartyId,
    balanceId: balance.id,
    forecast: JSON.stringify(final.forecast),
    decision: JSON.stringify(decision.frozen),
    statementOf: (bar) => {
      const input = inputFor(template, bar);
      const settlement = settle(input.settlementInput);
      return {
        input: JSON.stringify(input),
        settlement: JSON.stringify(settlement),
        total: settlement.total,
      };
    },
  };
}

/** The demo's final statement, for another bar. Its prices stay: the mill is invented through and through. */
function inputFor(
  { entry, settlementInput }: KeptInput,
  bar: Parameters<Shared['statementOf']>[0],
): KeptInput {
  const receivedG = bar.grams.toFixed(1);
  const afterMeltG = (bar.grams * 0.998).toFixed(1);
  const parcel = { kind: 'dore' as const, bars: [{ name: bar.code, receivedG, afterMeltG }] };
  const own: Record<string, string> = {
    Au: bar.goldFineness.toFixed(1),
    Ag: bar.silverFineness.toFixed(1),
  };
  const assays = settlementInput.assays.map((assay) => ({
    ...assay,
    own: own[assay.element] ?? assay.own,
    buyer: own[assay.element] ?? assay.buyer,
  }));
  return {
    entry: { ...entry, productId: bar.productId, parcel },
    settlementInput: { ...settlementInput, parcel, assays, previouslyPaid: [] },
  };
}
