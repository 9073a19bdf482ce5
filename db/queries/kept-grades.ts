import { sql, type Kysely } from 'kysely';
import { listBalances } from './balances.ts';
import { findCupellation } from './cupellation.ts';
import { groupBy } from './group-by.ts';
import { workAndKeep } from './kept.ts';
import { lotsBehind } from './lineage-cycle.ts';
import { partsOfLots } from './lot-parts.ts';
import { findLots } from './lots.ts';
import { madeFromParts, type LotGrade } from './made-from.ts';
import { listSupplies } from './supplies.ts';
import { listTrials } from './test-smelts.ts';
import { evidenceOfLot, keepRecoveries, keptRecoveries } from './treatment-history.ts';
import { listTreatments } from './treatments.ts';
import type { Summary } from '../../api/calc/evidence/summary.ts';
import { workLot } from '../../api/calc/facts/lot-evidence.ts';
import type { EvidenceFacts, TreatmentHistoryFacts } from '../../api/calc/facts/records.ts';
import { recoveriesOfLot } from '../../api/calc/facts/treatment-history.ts';
import type { LotPart } from '../../api/schemas/lot-part.ts';
import type { Lot } from '../../api/schemas/lot.ts';
import { assumptions } from '../../api/schemas/decision.ts';
import type { TrialWithSmelts } from '../../api/schemas/test-smelt.ts';
import type { Database } from '../schema.ts';

/** What a lot holds, g/t dry, as inferred; null where nothing speaks of a metal. */
export type KeptGrade = Record<'Au' | 'Ag', Summary | null>;

/** A grade with its standard uncertainty. */
export function measuredGrade({ Au, Ag }: KeptGrade): LotGrade {
  const of = (summary: Summary | null) => summary && { value: summary.mean, u: summary.sd };
  return { Au: of(Au), Ag: of(Ag) };
}

/** A page waits so long for grades that are not kept yet. */
export const PAGE_WAIT_MS = 900;

/** The draws that a lot's page takes. */
const { drawCount, seed } = assumptions.parse({});
/** Older lots say less of how the mill works. */
const HISTORY_LOTS = 40;
/** Lets others be answered before the next lot is inferred. */
const nextTurn = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));

/** So many are read and kept together. */
const LOTS_AT_ONCE = 25;

/**
 * The grades of lots in the books: by their own tests and assays, by what they were made from, and by what the forty
 * tested lots before each had shown of the treatments. Later lots do not change it, unlike what a lot's page says
 * when it is asked today. Taken from where they are kept; inferred and kept where they are not, for about so many
 * milliseconds where a limit is given: lots for which there was no time are `pending`, and come when they are asked
 * for again. An id that is not there has no grade.
 */
export async function keptGrades(
  db: Kysely<Database>,
  lotIds: readonly string[],
  { withinMs = Infinity }: { withinMs?: number | undefined } = {},
): Promise<{ grades: Map<string, KeptGrade>; pending: string[] }> {
  const until = performance.now() + withinMs;
  const hasTime = (): boolean => performance.now() < until;
  const grades = await readGrades(db, lotIds);
  const missing = await oldestFirst(
    db,
    lotIds.filter((id) => !grades.has(id)),
  );
  for (let from = 0; from < missing.length && hasTime(); from += LOTS_AT_ONCE) {
    const ids = missing.slice(from, from + LOTS_AT_ONCE);
    const { figures } = await workAndKeep(db, () => inferGrades(db, ids, hasTime), writeGrades);
    for (const { lot, grade } of figures.lots) grades.set(lot.id, grade);
  }
  return { grades, pending: missing.filter((id) => !grades.has(id)) };
}

async function readGrades(db: Kysely<Database>, lotIds: readonly string[]): Promise<Map<string, KeptGrade>> {
  const rows = await db
    .selectFrom('lotGrade')
    .select(['lotId', 'grade'])
    .where('lotId', '=', sql<string>`any(${lotIds}::uuid[])`)
    .execute();
  return new Map(rows.map(({ lotId, grade }) => [lotId, grade as KeptGrade]));
}

async function oldestFirst(db: Kysely<Database>, lotIds: readonly string[]): Promise<string[]> {
  if (lotIds.length === 0) return [];
  const rows = await db
    .selectFrom('lot')
    .select('id')
    .where('id', '=', sql<string>`any(${lotIds}::uuid[])`)
    .orderBy('madeOn')
    .orderBy('code')
    .execute();
  return rows.map(({ id }) => id);
}

interface Inferred {
  lots: { lot: Lot; grade: KeptGrade }[];
  recoveries: Map<string, TreatmentHistoryFacts[]>;
}

async function writeGrades(trx: Kysely<Database>, { lots, recoveries }: Inferred): Promise<void> {
  if (lots.length > 0)
    await trx
      .insertInto('lotGrade')
      .values(
        lots.map(({ lot, grade }) => ({ lotId: lot.id, madeOn: lot.madeOn, grade: JSON.stringify(grade) })),
      )
      .onConflict((conflict) => conflict.column('lotId').doNothing())
      .execute();
  await keepRecoveries(trx, recoveries);
}

type MillFacts = Pick<EvidenceFacts, 'balances' | 'cupellation' | 'supplies' | 'treatments'>;

/**
 * Infers the grades of some lots while there is time, and of those that they were made from. Others are answered
 * between one lot and the next.
 */
async function inferGrades(
  db: Kysely<Database>,
  lotIds: readonly string[],
  hasTime: () => boolean,
): Promise<Inferred> {
  const mill: MillFacts = {
    balances: await listBalances(db),
    cupellation: await findCupellation(db),
    supplies: await listSupplies(db),
    treatments: await listTreatments(db),
  };
  const history = historyOfLots(db, mill);
  const records = new Map((await readLots(db, lotIds)).map((one) => [one.lot.id, one]));
  const inferred = new Map<string, { lot: Lot; grade: KeptGrade }>();

  async function recordsOf(lotId: string): Promise<LotRecords> {
    for (const one of records.has(lotId) ? [] : await readLots(db, [lotId])) records.set(lotId, one);
    const found = records.get(lotId);
    if (found === undefined) throw new Error(`Lot ${lotId} was removed while it was read.`);
    return found;
  }

  /** The lots are never made from each other in a ring: the books refuse it. */
  async function gradeOf(lotId: string) {
    const { lot, trials, parts } = await recordsOf(lotId);
    const restsOn = parts.some(({ source }) => source !== 'day') ? await lotsBehind(db, lotId) : [lotId];
    const known = inferred.get(lotId)?.grade ?? (await readGrades(db, [lotId])).get(lotId);
    if (known !== undefined) return { grade: measuredGrade(known), lot, restsOn };
    const facts: EvidenceFacts = {
      ...evidenceOfLot(lot, trials, mill),
      history: await history.before(lot),
      madeFrom: await madeFromParts(db, parts, gradeOf),
    };
    await nextTurn();
    const { summary } = workLot(facts, { drawCount, seed }).inference;
    const grade: KeptGrade = { Au: summary.Au.gradeGpt, Ag: summary.Ag.gradeGpt };
    inferred.set(lotId, { lot, grade });
    return { grade: measuredGrade(grade), lot, restsOn };
  }

  for (const lotId of lotIds) if (records.has(lotId) && hasTime()) await gradeOf(lotId);
  return { lots: [...inferred.values()], recoveries: history.worked };
}

/** A lot with all records that are its own. */
interface LotRecords {
  lot: Lot;
  trials: TrialWithSmelts[];
  parts: LotPart[];
}

async function readLots(db: Kysely<Database>, lotIds: readonly string[]): Promise<LotRecords[]> {
  if (lotIds.length === 0) return [];
  const trials = groupBy(await listTrials(db, lotIds), (trial) => trial.lotId);
  const parts = groupBy(await partsOfLots(db, lotIds), (part) => part.lotId);
  return (await findLots(db, lotIds)).map((lot) => ({
    lot,
    trials: trials.get(lot.id) ?? [],
    parts: parts.get(lot.id) ?? [],
  }));
}

/** What the tested lots before one have shown, each worked once; `worked` has those that were not kept yet. */
function historyOfLots(db: Kysely<Database>, mill: MillFacts) {
  const shown = new Map<string, TreatmentHistoryFacts[]>();
  const worked = new Map<string, TreatmentHistoryFacts[]>();

  async function learn(lotIds: string[]): Promise<void> {
    if (lotIds.length === 0) return;
    for (const [lotId, recoveries] of await keptRecoveries(db, lotIds)) shown.set(lotId, recoveries);
    const unkept = lotIds.filter((id) => !shown.has(id));
    for (const { lot, trials } of await readLots(db, unkept)) {
      await nextTurn();
      const recoveries = recoveriesOfLot(evidenceOfLot(lot, trials, mill));
      shown.set(lot.id, recoveries);
      worked.set(lot.id, recoveries);
    }
  }

  async function before(lot: Pick<Lot, 'madeOn' | 'code'>): Promise<TreatmentHistoryFacts[]> {
    const ids = await testedBefore(db, lot);
    await learn(ids.filter((id) => !shown.has(id)));
    return ids.flatMap((id) => shown.get(id) ?? []);
  }
  return { before, worked };
}

/** The newest lots before one that have a parted test smelt, oldest first. */
async function testedBefore(
  db: Kysely<Database>,
  { madeOn, code }: Pick<Lot, 'madeOn' | 'code'>,
): Promise<string[]> {
  const rows = await db
    .selectFrom('lot')
    .select('id')
    .where(sql<boolean>`(made_on, code) < (${madeOn}, ${code})`)
    .where(
      sql<boolean>`exists (select from trial join test_smelt on test_smelt.trial_id = trial.id
        where trial.lot_id = lot.id and test_smelt.parted_gold_mg is not null)`,
    )
    .orderBy('madeOn', 'desc')
    .orderBy('code', 'desc')
    .limit(HISTORY_LOTS)
    .execute();
  return rows.map(({ id }) => id).toReversed();
}
