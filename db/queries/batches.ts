import { sql, type Kysely } from 'kysely';
import type { z } from 'zod';
import { inTransaction } from './in-transaction.ts';
import { NotFound, Refused } from './changed.ts';
import { groupBy } from './group-by.ts';
import { findLot } from './lots.ts';
import { findProductSource } from './material-sources.ts';
import { findMill } from './mill.ts';
import { stocksBefore } from './month-states.ts';
import { anywhere, filledIn, pageOf, type PageAsked, type Paged } from './page.ts';
import { movementCosts } from './stock-ledgers.ts';
import { listSupplies } from './supplies.ts';
import { leadByTreatment } from './treatment-leads.ts';
import { lockVersion } from './versioned.ts';
import { requireWithinSeason } from './within-season.ts';
import { batchCost, type MovementCost } from '../../api/calc/books/batch-cost.ts';
import type { ForecastBasis } from '../../api/calc/books/batch-result.ts';
import { Dec, sumOf } from '../../api/calc/money.ts';
import { heldBackOf } from '../../api/calc/settlement/held-back.ts';
import { payableOunces } from '../../api/calc/settlement/payable-ounces.ts';
import type { Settlement } from '../../api/calc/settlement/statement.ts';
import type { Batch, batchChange, newProduct, Product, productChange } from '../../api/schemas/batch.ts';
import type { Supply } from '../../api/schemas/supply.ts';
import type { Assumptions } from '../../api/calc/facts/assumptions.ts';
import type { Database } from '../schema.ts';

/** What is frozen when a batch is planned: the forecast that is shown, and everything it was worked from. */
export interface FrozenForecast {
  shown: Batch['forecast'];
  workedFrom: object;
  /** What the forecast took of each metal, on average; left out in forecasts frozen before it was kept. */
  basis?: ForecastBasis;
  /** Plans that this one took the place of, with all that their forecasts were worked from; none where it is the first. */
  superseded?: SupersededPlan[];
}

type SupersededPlan = Batch['superseded'][number] & { workedFrom: object };

function selectBatches(db: Kysely<Database>) {
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

type Row = Awaited<ReturnType<ReturnType<typeof selectBatches>['execute']>>[number];

/** The day on which what a batch used left the stock, and whose prices count. */
const costDay = (row: Row): string => row.finishedOn ?? row.startedOn ?? row.plannedOn;

function batchOf(
  row: Row,
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

async function withParts(db: Kysely<Database>, rows: Row[]): Promise<Batch[]> {
  if (rows.length === 0) return [];
  const ids = rows.map((row) => row.id);
  const supplies = await listSupplies(db);
  const consumption = groupBy(
    await db
      .selectFrom('batchConsumption')
      .innerJoin('supply', 'supply.id', 'batchConsumption.supplyId')
      .select(['batchId', 'supplyId', 'quantity'])
      .where('batchId', 'in', ids)
      .orderBy('supply.name')
      .execute(),
    (row) => row.batchId,
  );
  const products = groupBy(
    await db.selectFrom('product').selectAll().where('batchId', 'in', ids).orderBy('code').execute(),
    (row) => row.batchId,
  );
  const statements = groupBy(
    await db
      .selectFrom('statement')
      .innerJoin('product', 'product.id', 'statement.productId')
      .select([
        'product.batchId',
        'statement.productId',
        'statement.number',
        'statement.stage',
        'statement.total',
        'statement.settlement',
      ])
      .where('statement.status', '=', 'issued')
      .where('product.batchId', 'in', ids)
      .orderBy(sql`length(statement.number)`)
      .orderBy('statement.number')
      .execute(),
    (row) => row.batchId,
  );
  const leadSupplyIds = await leadByTreatment(db, supplies);
  const books = { supplies, millCurrency: (await findMill(db)).currency };
  const days = rows.map(costDay).toSorted();
  const stockCosts = await movementCosts(db, books, {
    supplyIds: [
      ...new Set([
        ...[...consumption.values()].flatMap((used) => used.map((one) => one.supplyId)),
        ...rows.flatMap((row) => leadSupplyIds.get(row.treatmentId ?? '') ?? []),
      ]),
    ],
    from: await stocksBefore(db, books, days[0] ?? ''),
    upTo: days.at(-1),
  });
  return rows.map((row) =>
    batchOf(row, {
      leadSupplyId: row.treatmentId === null ? null : (leadSupplyIds.get(row.treatmentId) ?? null),
      consumption: (consumption.get(row.id) ?? []).map(({ supplyId, quantity }) => ({ supplyId, quantity })),
      products: products.get(row.id) ?? [],
      statements: statements.get(row.id) ?? [],
      supplies,
      stockCosts,
    }),
  );
}

export async function listBatches(
  db: Kysely<Database>,
  filter: {
    lotId?: string | undefined;
    lotIds?: readonly string[] | undefined;
    seasonId?: string | undefined;
    statuses?: readonly Batch['status'][] | undefined;
    /** Only those that a statement was issued for. */
    settled?: boolean | undefined;
  } = {},
): Promise<Batch[]> {
  let query = selectBatches(db);
  if (filter.settled === true)
    query = query.where(
      sql<boolean>`exists (select 1 from product join statement on statement.product_id = product.id
        where product.batch_id = batch.id and statement.status = 'issued')`,
    );
  if (filter.statuses !== undefined) query = query.where('batch.status', 'in', filter.statuses);
  if (filter.lotId !== undefined) query = query.where('batch.lotId', '=', filter.lotId);
  if (filter.lotIds !== undefined)
    query = query.where('batch.lotId', '=', sql<string>`any(${filter.lotIds}::uuid[])`);
  if (filter.seasonId !== undefined) query = query.where('lot.seasonId', '=', filter.seasonId);
  return withParts(db, await query.execute());
}

/** Batches in the order they were planned, a page of them. */
export async function pageOfBatches(
  db: Kysely<Database>,
  filter: {
    lotId?: string | undefined;
    productId?: string | undefined;
    seasonId?: string | undefined;
    statuses?: readonly Batch['status'][] | undefined;
    /** Part of the code of the batch, its lot or one of its products. */
    sought?: string | undefined;
    /** `made`: with bars or parcels; `open`: with some that no final statement was issued for. */
    toSettle?: 'made' | 'open' | undefined;
  },
  page: PageAsked,
): Promise<Paged<Batch>> {
  let query = selectBatches(db);
  if (filter.lotId !== undefined) query = query.where('batch.lotId', '=', filter.lotId);
  if (filter.seasonId !== undefined) query = query.where('lot.seasonId', '=', filter.seasonId);
  if (filter.statuses !== undefined) query = query.where('batch.status', 'in', filter.statuses);
  if (filter.productId !== undefined)
    query = query.where(
      sql<boolean>`exists (select 1 from product where product.batch_id = batch.id
        and product.id = ${filter.productId})`,
    );
  if (filter.sought !== undefined) {
    const like = anywhere(filter.sought);
    query = query.where(
      sql<boolean>`(batch.code ilike ${like} or lot.code ilike ${like}
        or exists (select 1 from product where product.batch_id = batch.id and product.code ilike ${like}))`,
    );
  }
  if (filter.toSettle !== undefined)
    query = query.where(
      sql<boolean>`exists (select 1 from product where product.batch_id = batch.id
        and product.kind in ('bar', 'parcel') and (${filter.toSettle === 'made'} or not exists (
          select 1 from statement where statement.product_id = product.id and statement.status = 'issued'
            and statement.stage = 'final')))`,
    );
  const order = {
    by: ['batch.planned_on', 'batch.code', 'batch.id'],
    from: 'batch',
  };
  return filledIn(pageOf(db, query, order, page), (rows) => withParts(db, rows));
}

export async function findBatch(db: Kysely<Database>, id: string): Promise<Batch> {
  const [batch] = await withParts(db, await selectBatches(db).where('batch.id', '=', id).execute());
  if (batch === undefined) throw new NotFound('batch');
  return batch;
}

/** Everything that the frozen forecast was worked from, to repeat it. */
export async function findForecast(db: Kysely<Database>, id: string): Promise<FrozenForecast> {
  const row = await db.selectFrom('batch').select('forecast').where('id', '=', id).executeTakeFirst();
  if (row === undefined) throw new NotFound('batch');
  return row.forecast as FrozenForecast;
}

/** What the owner assumed when a batch was planned. */
export async function assumptionsOf(db: Kysely<Database>, id: string): Promise<Assumptions> {
  const { workedFrom } = await findForecast(db, id);
  return (workedFrom as { assumptions: Assumptions }).assumptions;
}

export interface PlannedBatch {
  code: string;
  lotId: string;
  treatmentId: string | null;
  termsId: string;
  decisionId: string | null;
  plannedOn: string;
  dryMassKg: string;
  remarks: string;
}

/** A batch carries out a decision about its own lot. */
async function requireDecisionOfLot(trx: Kysely<Database>, batch: PlannedBatch): Promise<void> {
  if (batch.decisionId === null) return;
  const decision = await trx
    .selectFrom('decision')
    .select('lotId')
    .where('id', '=', batch.decisionId)
    .executeTakeFirst();
  if (decision === undefined) throw new Refused('/decisionId', 'names a decision that is not there');
  if (decision.lotId !== batch.lotId) throw new Refused('/decisionId', 'is a decision about another lot');
}

/** Takes the mass out of the lot; refused when the lot has not that much left. */
export async function insertBatch(
  db: Kysely<Database>,
  batch: PlannedBatch,
  forecast: FrozenForecast,
  id: string = crypto.randomUUID(),
): Promise<Batch> {
  return inTransaction(db, async (trx) => {
    await trx.selectFrom('lot').select('id').where('id', '=', batch.lotId).forUpdate().execute();
    const lot = await findLot(trx, batch.lotId);
    await requireWithinSeason(trx, lot.seasonId, '/plannedOn', batch.plannedOn);
    await requireDecisionOfLot(trx, batch);
    if (new Dec(batch.dryMassKg).greaterThan(lot.leftKg))
      throw new Refused(
        '/dryMassKg',
        `is ${batch.dryMassKg} kg dry, but lot ${lot.code} has only ${lot.leftKg} kg left`,
      );
    await trx
      .insertInto('batch')
      .values({ id, ...batch, status: 'planned', forecast: JSON.stringify(forecast) })
      .execute();
    return findBatch(trx, id);
  });
}

/** A decision that a plan still carries out: one with the same treatment and terms. */
async function decisionStillCarriedOut(
  trx: Kysely<Database>,
  decisionId: string | null,
  plan: { treatmentId: string | null; termsId: string },
): Promise<string | null> {
  if (decisionId === null) return null;
  const decision = await trx
    .selectFrom('decision')
    .select(['treatmentId', 'termsId'])
    .where('id', '=', decisionId)
    .executeTakeFirst();
  const carriesOut = decision?.treatmentId === plan.treatmentId && decision.termsId === plan.termsId;
  return carriesOut ? decisionId : null;
}

/**
 * Plans a batch anew that has not been begun: gives its mass back, takes the new one, and freezes a new forecast. The
 * earlier plan stays with the batch as superseded.
 */
export async function replanBatch(
  db: Kysely<Database>,
  id: string,
  plan: Pick<PlannedBatch, 'treatmentId' | 'termsId' | 'plannedOn' | 'dryMassKg'> & { version: number },
  forecast: FrozenForecast,
): Promise<Batch> {
  return inTransaction(db, async (trx) => {
    const { version, ...row } = plan;
    await lockVersion(trx, 'batch', 'batch', id, version);
    const before = await findBatch(trx, id);
    if (before.status !== 'planned' || before.products.length > 0)
      throw new Refused('/plannedOn', 'cannot be changed any more: the batch is no longer only planned');
    await trx.selectFrom('lot').select('id').where('id', '=', before.lotId).forUpdate().execute();
    const lot = await findLot(trx, before.lotId);
    await requireWithinSeason(trx, lot.seasonId, '/plannedOn', plan.plannedOn);
    const leftKg = new Dec(lot.leftKg).plus(before.dryMassKg);
    if (leftKg.lessThan(plan.dryMassKg))
      throw new Refused(
        '/dryMassKg',
        `is ${plan.dryMassKg} kg dry, but lot ${lot.code} has only ${leftKg.toFixed()} kg for this batch`,
      );
    const earlier = await findForecast(trx, id);
    const superseded: SupersededPlan = {
      plannedOn: before.plannedOn,
      dryMassKg: before.dryMassKg,
      treatmentName: before.treatmentName,
      counterpartyName: before.counterpartyName,
      forecast: earlier.shown,
      workedFrom: earlier.workedFrom,
    };
    const frozen: FrozenForecast = {
      ...forecast,
      superseded: [...(earlier.superseded ?? []), superseded],
    };
    await trx
      .updateTable('batch')
      .set({
        ...row,
        decisionId: await decisionStillCarriedOut(trx, before.decisionId, plan),
        forecast: JSON.stringify(frozen),
        version: version + 1,
      })
      .where('id', '=', id)
      .execute();
    return findBatch(trx, id);
  });
}

export async function updateBatch(
  db: Kysely<Database>,
  id: string,
  fields: z.infer<typeof batchChange>,
): Promise<Batch> {
  return inTransaction(db, async (trx) => {
    const { consumption, version, ...row } = fields;
    await lockVersion(trx, 'batch', 'batch', id, version);
    const before = await findBatch(trx, id);
    if (fields.status === 'cancelled' && before.products.length > 0)
      throw new Refused('/status', 'cannot be cancelled: the batch has already given products');
    if (before.status === 'cancelled' && fields.status !== 'cancelled')
      throw new Refused('/status', 'was cancelled and its mass given back: plan a new batch instead');
    const lead = new Set(
      (await listSupplies(trx)).filter((supply) => supply.kind === 'lead').map((supply) => supply.id),
    );
    const leadAt = consumption.findIndex((one) => lead.has(one.supplyId));
    if (leadAt >= 0)
      throw new Refused(`/consumption/${leadAt}/supplyId`, 'is lead: enter it as lead in and lead back');
    await trx
      .updateTable('batch')
      .set({ ...row, version: version + 1 })
      .where('id', '=', id)
      .execute();
    await trx.deleteFrom('batchConsumption').where('batchId', '=', id).execute();
    if (consumption.length > 0)
      await trx
        .insertInto('batchConsumption')
        .values(consumption.map((one) => ({ batchId: id, ...one })))
        .execute();
    return findBatch(trx, id);
  });
}

export async function findProduct(db: Kysely<Database>, id: string): Promise<Product> {
  const row = await db.selectFrom('product').selectAll().where('id', '=', id).executeTakeFirst();
  if (row === undefined) throw new NotFound('product');
  return row;
}

/** A scale's and a moisture's share by which a parcel may outweigh what the batch took, as a fraction. */
const PARCEL_TOLERANCE_FRAC = 0.1;

/** What comes of a batch is not made before it, and weighs no more than what went in. */
async function requirePlausible(
  trx: Kysely<Database>,
  batch: Batch,
  product: { kind: Product['kind']; massKg: string; madeOn: string },
): Promise<void> {
  if (batch.startedOn !== null && product.madeOn < batch.startedOn)
    throw new Refused('/madeOn', `is ${product.madeOn}, before the batch was started on ${batch.startedOn}`);
  const lot = await findLot(trx, batch.lotId);
  const isParcel = product.kind === 'parcel';
  const mass = isParcel ? new Dec(product.massKg).times(new Dec(1).minus(lot.moistureFrac)) : product.massKg;
  const most = new Dec(batch.dryMassKg).times(1 + (isParcel ? PARCEL_TOLERANCE_FRAC : 0));
  const mayOutweigh = product.kind === 'slag' || product.kind === 'lead' || product.kind === 'matte';
  if (!mayOutweigh && most.lessThan(mass))
    throw new Refused(
      '/massKg',
      `is ${product.massKg} kg, more than the batch took out of the lot (${batch.dryMassKg} kg dry)`,
    );
}

export async function insertProduct(
  db: Kysely<Database>,
  batchId: string,
  fields: z.infer<typeof newProduct>,
): Promise<Product> {
  return inTransaction(db, async (trx) => {
    const batch = await findBatch(trx, batchId);
    if (batch.status === 'cancelled')
      throw new Refused('/kind', 'cannot come from a batch that was cancelled');
    await requirePlausible(trx, batch, fields);
    return trx
      .insertInto('product')
      .values({ id: crypto.randomUUID(), batchId, ...fields })
      .returningAll()
      .executeTakeFirstOrThrow();
  });
}

export async function updateProduct(
  db: Kysely<Database>,
  id: string,
  fields: z.infer<typeof productChange>,
): Promise<Product> {
  return inTransaction(db, async (trx) => {
    const { version, ...row } = fields;
    await lockVersion(trx, 'product', 'product', id, version);
    const { batchId } = await findProduct(trx, id);
    await requirePlausible(trx, await findBatch(trx, batchId), row);
    await trx
      .updateTable('product')
      .set({ ...row, version: version + 1 })
      .where('id', '=', id)
      .execute();
    await requireNotMoved(trx, id, row);
    return findProduct(trx, id);
  });
}

/** What was used up, written off or sent out stays so: the product keeps at least that mass, and comes before it. */
async function requireNotMoved(
  trx: Kysely<Database>,
  id: string,
  { massKg, madeOn }: { massKg: string; madeOn: string },
): Promise<void> {
  const source = await findProductSource(trx, id);
  if (source === undefined) return;
  if (new Dec(source.leftKg).isNegative())
    throw new Refused('/massKg', `is ${massKg} kg, less than was worked up again and written off`);
  const { first } = await trx
    .selectFrom('product')
    .select(
      sql<string | null>`least(
        (select min(taken_on) from lot_part where product_id = product.id),
        (select min(written_off_on) from write_off where product_id = product.id),
        (select min(shipped_on) from shipment join shipment_product on shipment_id = shipment.id
          where product_id = product.id))`.as('first'),
    )
    .where('product.id', '=', id)
    .executeTakeFirstOrThrow();
  if (first !== null && first < madeOn)
    throw new Refused('/madeOn', `is ${madeOn}, after it was taken or sent out on ${first}`);
}

export async function deleteProduct(db: Kysely<Database>, id: string): Promise<void> {
  const { numDeletedRows } = await db.deleteFrom('product').where('id', '=', id).executeTakeFirst();
  if (numDeletedRows === 0n) throw new NotFound('product');
}
