import { sql, type Kysely } from 'kysely';
import { listBatches } from './batches.ts';
import type { FrozenDecision } from './frozen-decision.ts';
import { saidMoney } from '../../api/calc/economics/decision-sentence.ts';
import { hindsight, type ForecastOption } from '../../api/calc/facts/hindsight.ts';
import { Dec } from '../../api/calc/money.ts';
import type { Batch } from '../../api/schemas/batch.ts';
import type { DecisionRecord } from '../../api/schemas/decision.ts';
import type { Database } from '../schema.ts';

/** What a list says of a decision: the rest of what is frozen is a hundred times as much, and only read to repeat it. */
type Shown = Pick<FrozenDecision, 'assumptions' | 'dryMassKg' | 'chosenId' | 'prices' | 'decision'>;

export function selectDecisions(db: Kysely<Database>) {
  return db
    .selectFrom('decision')
    .innerJoin('lot', 'lot.id', 'decision.lotId')
    .select([
      'decision.id',
      'decision.lotId',
      'decision.decidedOn',
      'decision.dryMassKg',
      'decision.treatmentId',
      'decision.termsId',
      'decision.reason',
      'decision.createdAt',
      'lot.code as lotCode',
      sql<Shown>`decision.frozen
        - '{facts,depth,summary,inquiryCosts,findings,evidenceFindings}'::text[]`.as('frozen'),
      sql<string>`decision.frozen #>> '{facts,currency}'`.as('currency'),
    ])
    .orderBy('decision.decidedOn')
    .orderBy('decision.createdAt');
}

type Row = Awaited<ReturnType<ReturnType<typeof selectDecisions>['execute']>>[number];
type CarriedOut = DecisionRecord['batches'][number];

/** What is known of a batch that may carry a decision out. */
export type JudgedBatch = Pick<
  Batch,
  | 'id'
  | 'code'
  | 'lotId'
  | 'decisionId'
  | 'treatmentId'
  | 'termsId'
  | 'plannedOn'
  | 'status'
  | 'dryMassKg'
  | 'currency'
  | 'actualNetValue'
  | 'missing'
> & { settled: Pick<NonNullable<Batch['settled']>, 'heldBack' | 'stage'> | null };

/** Two masses that differ by less have the same forecast to what can be told apart. */
const SAME_MASS_FRAC = 0.02;

/** Every option as it was frozen with a batch, for the batch's own mass. */
async function optionsOfBatch(db: Kysely<Database>, batchId: string): Promise<ForecastOption[]> {
  const row = await db
    .selectFrom('batch')
    .select(sql<ForecastOption[]>`forecast #> '{workedFrom,options}'`.as('options'))
    .where('id', '=', batchId)
    .executeTakeFirstOrThrow();
  return row.options;
}

async function carriedOut(db: Kysely<Database>, frozen: Shown, batch: JudgedBatch): Promise<CarriedOut> {
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
export function batchesOf(
  row: Row,
  decisions: readonly Row[],
  batches: readonly JudgedBatch[],
): JudgedBatch[] {
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

export async function recordOf(
  db: Kysely<Database>,
  row: Row,
  batches: readonly JudgedBatch[],
): Promise<DecisionRecord> {
  const { frozen } = row;
  const chosen = frozen.decision.options.find((option) => option.id === frozen.chosenId);
  const carried: CarriedOut[] = [];
  for (const batch of batches) carried.push(await carriedOut(db, frozen, batch));
  return {
    id: row.id,
    lotId: row.lotId,
    lotCode: row.lotCode,
    decidedOn: row.decidedOn,
    dryMassKg: row.dryMassKg,
    currency: row.currency,
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

/** Records of decisions; `ofLots` are all decisions about their lots. */
export async function recordsOf(
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
