import { sql, type Kysely } from 'kysely';
import { batchCost, type MovementCost } from '../../api/calc/books/batch-cost.ts';
import { Dec, sumOf } from '../../api/calc/money.ts';
import { heldBackOf } from '../../api/calc/settlement/held-back.ts';
import { payableOunces } from '../../api/calc/settlement/payable-ounces.ts';
import type { Settlement } from '../../api/calc/settlement/statement.ts';
import type { Batch, Product } from '../../api/schemas/batch.ts';
import type { Supply } from '../../api/schemas/supply.ts';
import type { Database } from '../schema.ts';

/** Batches with all that stands in their own row and beside it. */
export function selectBatches(db: Kysely<Database>) {
  return db
    .selectFrom('batch')
    .innerJoin('lot', 'lot.id', 'batch.lotId')
    .innerJoin('batchForecast', 'batchForecast.batchId', 'batch.id')
    .innerJoin('terms', 'terms.id', 'batch.termsId')
    .innerJoin('counterparty', 'counterparty.id', 'terms.counterpartyId')
    .leftJoin('treatment', 'treatment.id', 'batch.treatmentId')
    .select([
      'batch.id',
      'batch.code',
      'batch.lotId',
      'batch.decisionId',
      'batch.treatmentId',
      'batch.termsId',
      'batch.status',
      'batch.plannedOn',
      'batch.dryMassKg',
      'batch.startedOn',
      'batch.finishedOn',
      'batch.furnaceHours',
      'batch.labourHours',
      'batch.leadInKg',
      'batch.leadBackKg',
      'batch.remarks',
      'batch.version',
      // What a forecast was worked from is large, and only read to repeat it.
      sql<Batch['forecast']>`batch_forecast.shown`.as('forecast'),
      sql<Batch['superseded']>`batch_forecast.superseded`.as('superseded'),
      'lot.code as lotCode',
      'lot.seasonId as seasonId',
      'terms.name as termsName',
      sql<string>`terms.body ->> 'currency'`.as('currency'),
      'counterparty.name as counterpartyName',
      'treatment.name as treatmentName',
      'treatment.labourSupplyId as labourSupplyId',
    ])
    .orderBy('batch.plannedOn')
    .orderBy('batch.code');
}

export type BatchRow = Awaited<ReturnType<ReturnType<typeof selectBatches>['execute']>>[number];

/** The day on which what a batch used left the stock, and whose prices count. */
export const costDay = (row: BatchRow): string => row.finishedOn ?? row.startedOn ?? row.plannedOn;

/** A batch of its row with what hangs on it, and what it has cost. */
export function batchOf(
  row: BatchRow,
  parts: {
    consumption: { supplyId: string; quantity: string }[];
    products: Product[];
    statements: {
      productId: string;
      number: string | null;
      stage: string;
      total: string;
      settlement: object;
    }[];
    supplies: Supply[];
    leadSupplyId: string | null;
    stockCosts: ReadonlyMap<string, MovementCost>;
  },
): Batch {
  const cost = batchCost({ ...row, pricedOn: costDay(row), ...parts }, parts.supplies, parts.stockCosts);
  const newest = parts.statements.at(-1);
  const settled =
    newest === undefined
      ? null
      : {
          total: sumOf(parts.statements.map((statement) => statement.total)).toFixed(2),
          heldBack: sumOf(
            [...new Map(parts.statements.map((one) => [one.productId, one.settlement])).values()].map(
              (newestOfProduct) => heldBackOf(newestOfProduct as Settlement),
            ),
          ).toFixed(2),
          stage: newest.stage,
          statementNumber: newest.number ?? '',
        };
  return {
    id: row.id,
    code: row.code,
    lotId: row.lotId,
    lotCode: row.lotCode,
    treatmentId: row.treatmentId,
    treatmentName: row.treatmentName,
    termsId: row.termsId,
    termsName: row.termsName,
    counterpartyName: row.counterpartyName,
    decisionId: row.decisionId,
    status: row.status,
    plannedOn: row.plannedOn,
    dryMassKg: row.dryMassKg,
    startedOn: row.startedOn,
    finishedOn: row.finishedOn,
    furnaceHours: row.furnaceHours,
    labourHours: row.labourHours,
    leadInKg: row.leadInKg,
    leadBackKg: row.leadBackKg,
    consumption: parts.consumption,
    products: parts.products,
    remarks: row.remarks,
    currency: row.currency,
    forecast: row.forecast,
    superseded: row.superseded,
    costs: cost.lines,
    costTotal: cost.total,
    settled,
    payableGoldOzt: newest === undefined ? null : payableOunces(newest.settlement as Settlement, 'Au'),
    payableSilverOzt: newest === undefined ? null : payableOunces(newest.settlement as Settlement, 'Ag'),
    actualNetValue: settled && new Dec(settled.total).minus(cost.total).toFixed(2),
    missing: row.status === 'done' ? cost.missing : [],
    version: row.version,
  };
}
