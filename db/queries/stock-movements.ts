import { sql, type Kysely } from 'kysely';
import { batchMovementKeys } from '../../api/calc/books/batch-cost.ts';
import { dayMovementKey } from '../../api/calc/books/day-cost.ts';
import { exchanged, type DatedRate } from '../../api/calc/books/exchange.ts';
import type { StockMovement } from '../../api/calc/books/moving-average.ts';
import { Dec } from '../../api/calc/money.ts';
import { halfUp, roundedText } from '../../api/calc/rounding.ts';
import type { Finding } from '../../api/calc/finding.ts';
import type { Supply } from '../../api/schemas/supply.ts';
import type { Database } from '../schema.ts';
import { leadByTreatment } from './treatment-leads.ts';

/** A movement with what it comes from. */
export interface RecordedMovement extends StockMovement {
  supplyId: string;
  source:
    | { kind: 'purchase'; id: string; supplier: string; document: string }
    | { kind: 'count'; id: string }
    | { kind: 'batch'; id: string; code: string }
    | { kind: 'day'; id: string };
}

/** Which movements are asked for; without a bound, all. */
export interface MovementRange {
  supplyIds: readonly string[];
  /** Later than this day: the end of the day that kept states stand for. */
  after?: string | null;
  /** Up to and with this day. */
  upTo?: string | null;
}

/** Those supplies of which a stock is kept: bought or counted at least once. */
export async function stockedSupplyIds(db: Kysely<Database>): Promise<string[]> {
  const bought = db.selectFrom('supplyPurchase').select('supplyId');
  const rows = await bought.union(db.selectFrom('supplyCount').select('supplyId')).execute();
  return rows.map((row) => row.supplyId);
}

/** All that happened to the stock of some supplies, in no order, with what could not be told in the mill's currency. */
export async function listMovements(
  db: Kysely<Database>,
  range: MovementRange,
  books: { supplies: readonly Pick<Supply, 'id' | 'kind'>[]; millCurrency: string },
): Promise<{ movements: RecordedMovement[]; findings: Finding[] }> {
  if (range.supplyIds.length === 0) return { movements: [], findings: [] };
  const bought = await purchaseMovements(db, range, books.millCurrency);
  return {
    movements: [
      ...bought.movements,
      ...(await countMovements(db, range)),
      ...(await usedInBatches(db, range)),
      ...(await leadOfBatches(db, range, books.supplies)),
      ...(await usedOnDays(db, range)),
    ],
    findings: bought.findings,
  };
}

async function purchaseMovements(
  db: Kysely<Database>,
  { supplyIds, after, upTo }: MovementRange,
  millCurrency: string,
): Promise<{ movements: RecordedMovement[]; findings: Finding[] }> {
  let query = db.selectFrom('supplyPurchase').selectAll().where('supplyId', 'in', supplyIds);
  if (after != null) query = query.where('boughtOn', '>', after);
  if (upTo != null) query = query.where('boughtOn', '<=', upTo);
  const rows = await query.execute();
  const rates = await ratesOf(
    db,
    rows.map((row) => row.currency).filter((currency) => currency !== millCurrency),
  );
  const findings: Finding[] = [];
  const movements = rows.map((row): RecordedMovement => {
    const told = exchanged({ ...row, on: row.boughtOn, millCurrency, rates });
    findings.push(...told.findings);
    return {
      key: `purchase:${row.id}`,
      supplyId: row.supplyId,
      on: row.boughtOn,
      kind: 'purchase',
      quantity: row.quantity,
      amount: told.amount,
      source: { kind: 'purchase', id: row.id, supplier: row.supplier, document: row.document },
    };
  });
  return { movements, findings };
}

async function ratesOf(db: Kysely<Database>, currencies: string[]): Promise<DatedRate[]> {
  if (currencies.length === 0) return [];
  return db
    .selectFrom('exchangeRate')
    .select(['currency', 'ratedOn', 'rate'])
    .where('currency', 'in', [...new Set(currencies)])
    .execute();
}

async function countMovements(
  db: Kysely<Database>,
  { supplyIds, after, upTo }: MovementRange,
): Promise<RecordedMovement[]> {
  let query = db.selectFrom('supplyCount').selectAll().where('supplyId', 'in', supplyIds);
  if (after != null) query = query.where('countedOn', '>', after);
  if (upTo != null) query = query.where('countedOn', '<=', upTo);
  return (await query.execute()).map((row) => ({
    key: `count:${row.id}`,
    supplyId: row.supplyId,
    on: row.countedOn,
    kind: 'count',
    quantity: row.quantity,
    amount: row.unitCost === null ? null : roundedText(new Dec(row.quantity).times(row.unitCost), halfUp(2)),
    source: { kind: 'count', id: row.id },
  }));
}

/** The day on which what a batch used left the stock. */
const batchDay = sql<string>`coalesce(batch.finished_on, batch.started_on, batch.planned_on)`;

async function usedInBatches(
  db: Kysely<Database>,
  { supplyIds, after, upTo }: MovementRange,
): Promise<RecordedMovement[]> {
  let query = db
    .selectFrom('batchConsumption')
    .innerJoin('batch', 'batch.id', 'batchConsumption.batchId')
    .select(['batch.id', 'batch.code', 'batchConsumption.supplyId', 'batchConsumption.quantity'])
    .select(batchDay.as('on'))
    .where('batch.status', '<>', 'cancelled')
    .where('batchConsumption.supplyId', 'in', supplyIds);
  if (after != null) query = query.where(batchDay, '>', after);
  if (upTo != null) query = query.where(batchDay, '<=', upTo);
  return (await query.execute()).map(({ id, code, supplyId, quantity, on }) => ({
    key: batchMovementKeys.used(id, supplyId),
    supplyId,
    on,
    kind: 'use',
    quantity,
    amount: null,
    source: { kind: 'batch', id, code },
  }));
}

async function leadOfBatches(
  db: Kysely<Database>,
  { supplyIds, after, upTo }: MovementRange,
  supplies: readonly Pick<Supply, 'id' | 'kind'>[],
): Promise<RecordedMovement[]> {
  const leads = [...(await leadByTreatment(db, supplies))].filter(([, supplyId]) =>
    supplyIds.includes(supplyId),
  );
  if (leads.length === 0) return [];
  const leadOf = new Map(leads);
  let query = db
    .selectFrom('batch')
    .select(['id', 'code', 'treatmentId', 'leadInKg', 'leadBackKg', batchDay.as('on')])
    .where('status', '<>', 'cancelled')
    .where('treatmentId', 'in', [...leadOf.keys()])
    .where((where) => where.or([where('leadInKg', '>', '0'), where('leadBackKg', '>', '0')]));
  if (after != null) query = query.where(batchDay, '>', after);
  if (upTo != null) query = query.where(batchDay, '<=', upTo);
  return (await query.execute()).flatMap(({ id, code, treatmentId, leadInKg, leadBackKg, on }) => {
    const supplyId = leadOf.get(treatmentId ?? '');
    if (supplyId === undefined) return [];
    const one = (kind: 'use' | 'return', key: string, quantity: string | null): RecordedMovement[] =>
      quantity === null || new Dec(quantity).isZero()
        ? []
        : [{ key, supplyId, on, kind, quantity, amount: null, source: { kind: 'batch', id, code } }];
    return [
      ...one('use', batchMovementKeys.leadIn(id), leadInKg),
      ...one('return', batchMovementKeys.leadBack(id), leadBackKg),
    ];
  });
}

async function usedOnDays(
  db: Kysely<Database>,
  { supplyIds, after, upTo }: MovementRange,
): Promise<RecordedMovement[]> {
  let query = db
    .selectFrom('productionDaySupply')
    .innerJoin('productionDay', 'productionDay.id', 'productionDaySupply.productionDayId')
    .select([
      'productionDay.id',
      'productionDay.day',
      'productionDaySupply.supplyId',
      'productionDaySupply.quantity',
    ])
    .where('productionDaySupply.supplyId', 'in', supplyIds);
  if (after != null) query = query.where('productionDay.day', '>', after);
  if (upTo != null) query = query.where('productionDay.day', '<=', upTo);
  return (await query.execute()).map(({ id, day, supplyId, quantity }) => ({
    key: dayMovementKey(id, supplyId),
    supplyId,
    on: day,
    kind: 'use',
    quantity,
    amount: null,
    source: { kind: 'day', id },
  }));
}
