import { type Kysely } from 'kysely';
import type { z } from 'zod';
import { inTransaction } from './in-transaction.ts';
import { NotFound, Refused } from './changed.ts';
import { findLot } from './lots.ts';
import { listSupplies } from './supplies.ts';
import { lockVersion } from './versioned.ts';
import { requireWithinSeason } from './within-season.ts';
import type { ForecastBasis } from '../../api/calc/books/batch-result.ts';
import { Dec } from '../../api/calc/money.ts';
import type { Batch, batchChange } from '../../api/schemas/batch.ts';
import type { Assumptions } from '../../api/calc/facts/assumptions.ts';
import type { Database } from '../schema.ts';
import { findBatch } from './batches.ts';

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
