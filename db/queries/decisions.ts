import { sql, type Kysely } from 'kysely';
import { NotFound } from './changed.ts';
import { batchesOf, recordOf, recordsOf, selectDecisions, type JudgedBatch } from './decision-records.ts';
import type { FrozenDecision } from './frozen-decision.ts';
import { groupBy } from './group-by.ts';
import { inTransaction } from './in-transaction.ts';
import { filledIn, pageOf, type PageAsked, type Paged } from './page.ts';
import type { DecisionRecord } from '../../api/schemas/decision.ts';
import type { Database } from '../schema.ts';

/** Decisions in the order in which they were taken, with what came of them. */
export async function listDecisions(
  db: Kysely<Database>,
  filter: { lotId?: string | undefined } = {},
): Promise<DecisionRecord[]> {
  let query = selectDecisions(db);
  if (filter.lotId !== undefined) query = query.where('decision.lotId', '=', filter.lotId);
  const rows = await query.execute();
  return recordsOf(db, rows, rows);
}

/** The decisions about a season's lots, with what came of them by its batches, which are known already. */
export async function decisionsOfSeason(
  db: Kysely<Database>,
  { seasonId, upTo }: { seasonId: string; upTo: string },
  batches: JudgedBatch[],
): Promise<DecisionRecord[]> {
  const rows = await selectDecisions(db)
    .where('lot.seasonId', '=', seasonId)
    .where('decision.decidedOn', '<=', upTo)
    .execute();
  const rowsOfLot = groupBy(rows, (row) => row.lotId);
  const batchesOfLot = groupBy(batches, (one) => one.lotId);
  const records: DecisionRecord[] = [];
  for (const row of rows) {
    const own = batchesOfLot.get(row.lotId) ?? [];
    const ofLot = rowsOfLot.get(row.lotId) ?? [];
    records.push(await recordOf(db, row, batchesOf(row, ofLot, own)));
  }
  return records;
}

/** Decisions in the order in which they were taken, a page of them. */
export async function pageOfDecisions(
  db: Kysely<Database>,
  filter: { lotId?: string | undefined; seasonId?: string | undefined },
  page: PageAsked,
): Promise<Paged<DecisionRecord>> {
  let query = selectDecisions(db);
  if (filter.lotId !== undefined) query = query.where('decision.lotId', '=', filter.lotId);
  if (filter.seasonId !== undefined) query = query.where('lot.seasonId', '=', filter.seasonId);
  const order = { by: ['decision.decided_on', 'decision.created_at', 'decision.id'], from: 'decision' };
  return filledIn(pageOf(db, query, order, page), async (rows) => {
    const lotIds = sql<string>`any(${rows.map(({ lotId }) => lotId)}::uuid[])`;
    return recordsOf(db, rows, await selectDecisions(db).where('decision.lotId', '=', lotIds).execute());
  });
}

export async function findDecision(db: Kysely<Database>, id: string): Promise<DecisionRecord> {
  const row = await db.selectFrom('decision').select('lotId').where('id', '=', id).executeTakeFirst();
  if (row === undefined) throw new NotFound('decision');
  const ofLot = await listDecisions(db, { lotId: row.lotId });
  const found = ofLot.find((one) => one.id === id);
  if (found === undefined) throw new NotFound('decision');
  return found;
}

/** Everything that a decision rests on and that was worked out of it, to repeat it and to print it. */
export async function findFrozenDecision(db: Kysely<Database>, id: string): Promise<FrozenDecision> {
  const row = await db.selectFrom('decision').select('frozen').where('id', '=', id).executeTakeFirst();
  if (row === undefined) throw new NotFound('decision');
  return row.frozen as FrozenDecision;
}

export async function insertDecision(
  db: Kysely<Database>,
  fields: {
    lotId: string;
    decidedOn: string;
    dryMassKg: string;
    chosen: { treatmentId: string | null; termsId: string } | null;
    reason: string;
  },
  frozen: FrozenDecision,
): Promise<DecisionRecord> {
  return inTransaction(db, async (trx) => {
    const id = crypto.randomUUID();
    const { chosen, ...row } = fields;
    await trx
      .insertInto('decision')
      .values({
        id,
        ...row,
        treatmentId: chosen?.treatmentId ?? null,
        termsId: chosen?.termsId ?? null,
        frozen: JSON.stringify(frozen),
      })
      .execute();
    return findDecision(trx, id);
  });
}

/** Takes a decision recorded by mistake off the books; refused while a batch names it. */
export async function deleteDecision(db: Kysely<Database>, id: string): Promise<void> {
  const { numDeletedRows } = await db.deleteFrom('decision').where('id', '=', id).executeTakeFirst();
  if (numDeletedRows === 0n) throw new NotFound('decision');
}
