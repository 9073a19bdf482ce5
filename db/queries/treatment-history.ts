import { createHash } from 'node:crypto';
import { sql, type Kysely } from 'kysely';
import { groupBy } from './group-by.ts';
import { workAndKeep } from './kept.ts';
import { findLots } from './lots.ts';
import { listTrials } from './test-smelts.ts';
import { recoveriesOfLot } from '../../api/calc/facts/treatment-history.ts';
import type {
  EvidenceFacts,
  LotFacts,
  TreatmentHistoryFacts,
  TrialFacts,
} from '../../api/calc/facts/records.ts';
import type { Database } from '../schema.ts';

/** Older lots say less of how the mill works now, and each costs its working once. */
const MOST_LOTS = 40;

/** What lots have shown, by a digest of all that it was worked from: a lot is worked again only when its records change. */
const worked = new Map<string, TreatmentHistoryFacts[]>();
const MOST_KEPT = 500;

function recoveriesOnce(facts: Omit<EvidenceFacts, 'history'>): TreatmentHistoryFacts[] {
  const digest = createHash('sha256').update(JSON.stringify(facts)).digest('base64');
  const known = worked.get(digest);
  if (known !== undefined) return known;
  const recoveries = recoveriesOfLot(facts);
  const [oldest] = worked.keys();
  if (worked.size >= MOST_KEPT && oldest !== undefined) worked.delete(oldest);
  worked.set(digest, recoveries);
  return recoveries;
}

const nextTurn = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));

/** The newest lots that have a parted test smelt up to a day. */
async function newestTested(db: Kysely<Database>, on: string | null): Promise<string[]> {
  const rows = await db
    .selectFrom('lot')
    .select('id')
    .where(
      sql<boolean>`exists (select from trial join test_smelt on test_smelt.trial_id = trial.id
        where trial.lot_id = lot.id and test_smelt.parted_gold_mg is not null
          and coalesce(test_smelt.smelted_on <= ${on}::date, true))`,
    )
    .orderBy('madeOn', 'desc')
    .orderBy('code', 'desc')
    .limit(MOST_LOTS)
    .execute();
  return rows.map(({ id }) => id);
}

type Mill = Pick<EvidenceFacts, 'balances' | 'cupellation' | 'supplies' | 'treatments'>;

/** What a lot was tested by up to a day, and whether that is all it ever was. */
interface TestedLot {
  facts: Omit<EvidenceFacts, 'history' | 'madeFrom'>;
  isWhole: boolean;
}

/**
 * What the lots that were tested have shown of the treatments, the newest forty, by the tests and assays up to a day
 * (null: all). A lot without a parted test is left out. What a lot shows by all of its records is kept.
 */
export async function treatmentHistory(
  db: Kysely<Database>,
  on: string | null,
  mill: Mill,
): Promise<(TreatmentHistoryFacts & { lotId: string })[]> {
  const ids = await newestTested(db, on);
  if (ids.length === 0) return [];
  const { figures } = await workAndKeep(
    db,
    async () => {
      const kept = await keptRecoveries(db, ids);
      const shown = new Map<string, TreatmentHistoryFacts[]>();
      const anew = new Map<string, TreatmentHistoryFacts[]>();
      for (const { facts, isWhole } of await testedLots(db, ids, on, mill)) {
        const known = isWhole ? kept.get(facts.lot.id) : undefined;
        // Others are answered between one lot and the next.
        if (known === undefined) await nextTurn();
        const recoveries = known ?? recoveriesOnce(facts);
        shown.set(facts.lot.id, recoveries);
        if (known === undefined && isWhole) anew.set(facts.lot.id, recoveries);
      }
      return { shown, anew };
    },
    (trx, { anew }) => keepRecoveries(trx, anew),
  );
  return [...figures.shown].flatMap(([lotId, recoveries]) => recoveries.map((one) => ({ ...one, lotId })));
}

async function testedLots(
  db: Kysely<Database>,
  ids: readonly string[],
  on: string | null,
  mill: Mill,
): Promise<TestedLot[]> {
  const upTo = (day: string): boolean => on === null || day <= on;
  const trials = groupBy(await listTrials(db, [...ids]), (trial) => trial.lotId);
  return (await findLots(db, [...ids])).map((lot) => {
    const all = trials.get(lot.id) ?? [];
    const known = { ...lot, labAssays: lot.labAssays.filter(({ assayedOn }) => upTo(assayedOn)) };
    const tested = all.map((trial) => ({
      ...trial,
      smelts: trial.smelts.filter(({ smeltedOn }) => upTo(smeltedOn)),
    }));
    return {
      facts: evidenceOfLot(known, tested, mill),
      isWhole:
        known.labAssays.length === lot.labAssays.length &&
        all.every(({ smelts }) => smelts.every(({ smeltedOn }) => upTo(smeltedOn))),
    };
  });
}

/** What lots have shown by all of their records, where it is kept. */
export async function keptRecoveries(
  db: Kysely<Database>,
  lotIds: readonly string[],
): Promise<Map<string, TreatmentHistoryFacts[]>> {
  const rows = await db
    .selectFrom('lotRecovery')
    .selectAll()
    .where('lotId', '=', sql<string>`any(${lotIds}::uuid[])`)
    .execute();
  return new Map(rows.map(({ lotId, recoveries }) => [lotId, recoveries as TreatmentHistoryFacts[]]));
}

export async function keepRecoveries(
  trx: Kysely<Database>,
  worked: ReadonlyMap<string, TreatmentHistoryFacts[]>,
): Promise<void> {
  if (worked.size === 0) return;
  await trx
    .insertInto('lotRecovery')
    .values([...worked].map(([lotId, shown]) => ({ lotId, recoveries: JSON.stringify(shown) })))
    .onConflict((conflict) => conflict.column('lotId').doNothing())
    .execute();
}

/** What a lot's evidence is worked from, without its history and what it was made from. */
export function evidenceOfLot(
  lot: LotFacts,
  trials: TrialFacts[],
  mill: Pick<EvidenceFacts, 'balances' | 'cupellation' | 'supplies' | 'treatments'>,
): Omit<EvidenceFacts, 'history' | 'madeFrom'> {
  return {
    lot: {
      id: lot.id,
      code: lot.code,
      moistureFrac: lot.moistureFrac,
      dryMassKg: lot.dryMassKg,
      minerals: lot.minerals,
      labAssays: lot.labAssays,
      sampling: lot.sampling,
    },
    trials,
    balances: mill.balances,
    cupellation: mill.cupellation,
    supplies: mill.supplies.map(({ id, name, kind }) => ({ id, name, kind })),
    treatments: mill.treatments.map((one) => ({
      id: one.id,
      name: one.name,
      retired: one.retired,
      goldRecoveryMeanFrac: one.goldRecoveryMeanFrac,
      goldRecoverySdFrac: one.goldRecoverySdFrac,
      silverRecoveryMeanFrac: one.silverRecoveryMeanFrac,
      silverRecoverySdFrac: one.silverRecoverySdFrac,
    })),
  };
}

/** What other lots have shown, for one of them. */
export function historyFor(
  lotId: string,
  history: readonly (TreatmentHistoryFacts & { lotId: string })[],
): TreatmentHistoryFacts[] {
  return history.flatMap(({ lotId: other, ...recoveries }) => (other === lotId ? [] : [recoveries]));
}
