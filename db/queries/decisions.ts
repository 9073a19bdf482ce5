import { sql, type Kysely } from 'kysely';
import { listBatches, type FrozenForecast } from './batches.ts';
import { NotFound } from './changed.ts';
import { inTransaction } from './in-transaction.ts';
import { filledIn, pageOf, type PageAsked, type Paged } from './page.ts';
import type { Decision } from '../../api/calc/economics/decide.ts';
import { saidMoney } from '../../api/calc/economics/decision-sentence.ts';
import type { MetalPrice } from '../../api/calc/economics/options.ts';
import type { InferLotResult } from '../../api/calc/evidence/infer-lot.ts';
import type { Metal } from '../../api/calc/evidence/lot-evidence.ts';
import type { Assumptions } from '../../api/calc/facts/assumptions.ts';
import type { DecisionDepth } from '../../api/calc/facts/decision-depth.ts';
import type { ForecastOption } from '../../api/calc/facts/hindsight.ts';
import { hindsight } from '../../api/calc/facts/hindsight.ts';
import type { InquiryCosts } from '../../api/calc/facts/inquiries.ts';
import type { DecisionFacts } from '../../api/calc/facts/records.ts';
import type { Finding } from '../../api/calc/finding.ts';
import { Dec } from '../../api/calc/money.ts';
import type { Batch } from '../../api/schemas/batch.ts';
import type { DecisionRecord } from '../../api/schemas/decision.ts';
import type { Database } from '../schema.ts';

/** What is frozen when a decision is recorded: all it was worked from, and all that was worked out. */
export interface FrozenDecision {
  facts: DecisionFacts;
  assumptions: Assumptions;
  inquiryCosts: InquiryCosts;
  dryMassKg: string;
  /** The option chosen; null: the lot is left as it is. */
  chosenId: string | null;
  prices: Record<Metal, MetalPrice>;
  decision: Decision;
  findings: Finding[];
  summary: InferLotResult['summary'];
  evidenceFindings: Finding[];
  depth: DecisionDepth;
}

function selectDecisions(db: Kysely<Database>) {
  return db
    .selectFrom('decision')
    .innerJoin('lot', 'lot.id', 'decision.lotId')
    .selectAll('decision')
    .select('lot.code as lotCode')
    .orderBy('decision.decidedOn')
    .orderBy('decision.createdAt');
}

type Row = Awaited<ReturnType<ReturnType<typeof selectDecisions>['execute']>>[number];
type CarriedOut = DecisionRecord['batches'][number];

/** Two masses that differ by less have the same forecast to what can be told apart. */
const SAME_MASS_FRAC = 0.02;

/** Every option as it was frozen with a batch, for the batch's own mass. */
async function optionsOfBatch(db: Kysely<Database>, batchId: string): Promise<ForecastOption[]> {
  const row = await db
    .selectFrom('batch')
    .select('forecast')
    .where('id', '=', batchId)
    .executeTakeFirstOrThrow();
  const { options } = (row.forecast as FrozenForecast).workedFrom as { options: ForecastOption[] };
  return options;
}

async function carriedOut(db: Kysely<Database>, frozen: FrozenDecision, batch: Batch): Promise<CarriedOut> {
  const { settled, actualNetValue } = batch;
  const base = { batchId: batch.id, batchCode: batch.code, dryMassKg: batch.dryMassKg, status: batch.status };
  if (settled === null || actualNetValue === null || frozen.chosenId === null)
    return { ...base, hindsight: null };
  const ratio = Number(batch.dryMassKg) / Number(frozen.dryMassKg);
  const sameMass = Math.abs(ratio - 1) <= SAME_MASS_FRAC;
  // What is held back until the final statement was earned too: left out, an advance would look like a loss.
  const brought = new Dec(actualNetValue).plus(settled.heldBack).toFixed(2);
  const isFinal = settled.stage === 'final' || settled.stage === 'adjustment';
  const found = hindsight({
    chosenId: frozen.chosenId,
    options: sameMass ? frozen.decision.options : await optionsOfBatch(db, batch.id),
    actualNetValue: Number(brought),
    isFinal: isFinal && batch.status === 'done',
    currency: batch.currency,
  });
  if (found === null) return { ...base, hindsight: null };
  const notes = [
    ...(sameMass
      ? []
      : [`The ranges are those frozen when batch ${batch.code} was planned, for its ${batch.dryMassKg} kg.`]),
    ...(isFinal
      ? []
      : [
          Number(settled.heldBack) > 0
            ? `It is not settled finally: ${saidMoney(Number(settled.heldBack), batch.currency)} of it is held back until then.`
            : 'It is not settled finally.',
        ]),
    ...(batch.missing.length > 0 || batch.status !== 'done' ? ['Its costs are not complete yet.'] : []),
  ];
  const sentence = [found.sentence, ...notes].join(' ');
  return { ...base, hindsight: { ...found, sentence, actualNetValue: brought, stage: settled.stage } };
}

/**
 * The batches that carry a decision out: those that name it; and of those that name none, what was done with
 * the lot in the way that was chosen while this was the last decision about it, as far as its mass goes.
 */
function batchesOf(row: Row, decisions: readonly Row[], batches: readonly Batch[]): Batch[] {
  const later = decisions.find(
    (other) =>
      other.lotId === row.lotId &&
      (other.decidedOn > row.decidedOn ||
        (other.decidedOn === row.decidedOn && other.createdAt > row.createdAt)),
  );
  const worked = batches.filter((batch) => batch.status !== 'cancelled');
  const naming = worked.filter((batch) => batch.decisionId === row.id);
  const fitting = worked.filter(
    (batch) =>
      batch.decisionId === null &&
      batch.lotId === row.lotId &&
      batch.termsId === row.termsId &&
      batch.treatmentId === row.treatmentId &&
      batch.plannedOn >= row.decidedOn &&
      (later === undefined || batch.plannedOn < later.decidedOn),
  );
  let leftKg = (1 + SAME_MASS_FRAC) * Number(row.dryMassKg);
  return [...naming, ...fitting].filter((batch) => {
    leftKg -= Number(batch.dryMassKg);
    return batch.decisionId === row.id || leftKg >= 0;
  });
}

async function recordOf(db: Kysely<Database>, row: Row, batches: readonly Batch[]): Promise<DecisionRecord> {
  const frozen = row.frozen as FrozenDecision;
  const chosen = frozen.decision.options.find((option) => option.id === frozen.chosenId);
  const carried: CarriedOut[] = [];
  for (const batch of batches) carried.push(await carriedOut(db, frozen, batch));
  return {
    id: row.id,
    lotId: row.lotId,
    lotCode: row.lotCode,
    decidedOn: row.decidedOn,
    dryMassKg: row.dryMassKg,
    currency: frozen.facts.currency,
    chosen:
      chosen === undefined || row.termsId === null
        ? null
        : { optionId: chosen.id, name: chosen.name, treatmentId: row.treatmentId, termsId: row.termsId },
    reason: row.reason,
    sentence: frozen.decision.sentence,
    options: frozen.decision.options.map(
      ({ id, name, kind, netValue: { mean, p10, p50, p90 }, chanceBestFrac, expectedRegret }) => ({
        id,
        name,
        kind,
        netValue: { mean, p10, p50, p90 },
        chanceBestFrac,
        expectedRegret,
      }),
    ),
    assumptions: frozen.assumptions,
    batches: carried,
    createdAt: row.createdAt,
  };
}

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

/** Records of decisions; `ofLots` are all decisions about their lots. */
async function recordsOf(
  db: Kysely<Database>,
  rows: readonly Row[],
  ofLots: readonly Row[],
): Promise<DecisionRecord[]> {
  if (rows.length === 0) return [];
  const batches = await listBatches(db, { lotIds: [...new Set(rows.map(({ lotId }) => lotId))] });
  const records: DecisionRecord[] = [];
  for (const row of rows) records.push(await recordOf(db, row, batchesOf(row, ofLots, batches)));
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
