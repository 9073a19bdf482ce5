import type { Kysely } from 'kysely';
import { createApp } from '../app.ts';
import { actingAs, THE_PROGRAM } from '../../db/audit/acting.ts';
import { inTransaction } from '../../db/queries/in-transaction.ts';
import {
  BALANCE_CHECKS,
  BALANCES,
  BATCHES,
  LAB_ASSAYS,
  LOTS,
  PRODUCT_ASSAYS,
  SAMPLINGS,
  SEASON,
  SUPPLIES,
  TREATMENTS,
  TRIALS,
} from './invented-books.ts';
import { inventedDays, inventedMovements, partsOfDays } from './invented-production.ts';
import { inventedQuotations } from './invented-quotations.ts';
import { inventedStatements } from './invented-statements.ts';
import { inventedStock } from './invented-stock.ts';
import { refinerTerms, smelterTerms, traderTerms } from './invented-terms.ts';
import type { Terms } from '../calc/terms/terms.ts';
import type { Database } from '../../db/schema.ts';

/** The day on which the demo's books stand. */
const DEMO_DAY = '2026-10-14';

/** Sends what an owner would send and gives back what an owner would see; anything refused is an error. */
export type Enter = <Answer = { id: string; version: number }>(
  method: 'POST' | 'PUT' | 'GET',
  path: string,
  body?: unknown,
) => Promise<Answer>;

/** True while nobody has entered or changed anything: only then may the demo be loaded. */
export async function isUntouched(db: Kysely<Database>): Promise<boolean> {
  const settings = await db
    .selectFrom('mill')
    .innerJoin('season', (join) => join.onTrue())
    .select(['mill.version', 'season.version as seasonVersion'])
    .execute();
  if (settings.length !== 1 || settings.some((one) => one.version > 1 || one.seasonVersion > 1)) return false;
  for (const table of ['lot', 'supply', 'balance', 'quotation', 'treatment', 'counterparty'] as const)
    if ((await db.selectFrom(table).selectAll().limit(1).executeTakeFirst()) !== undefined) return false;
  return true;
}

/**
 * Loads the invented season through the same doors that an owner uses, so that
 * whatever it shows could have been typed in; all in one transaction, so that a
 * start cut short leaves nothing half-loaded.
 */
export async function loadDemoSeason(db: Kysely<Database>): Promise<void> {
  await actingAs(THE_PROGRAM, () =>
    inTransaction(db, async (trx) => {
      const app = createApp({ db: trx, now: () => new Date(`${DEMO_DAY}T12:00:00Z`) });
      const enter: Enter = async <Answer>(method: string, path: string, body?: unknown) => {
        const response = await app.request(`/api${path}`, {
          method,
          ...(body === undefined
            ? {}
            : { headers: { 'content-type': 'application/json' }, body: JSON.stringify(body) }),
        });
        if (!response.ok) throw new Error(`demo ${method} ${path}: ${await response.text()}`);
        return (await response.json()) as Answer;
      };
      await loadBooks(trx, enter);
    }),
  );
}

async function loadBooks(trx: Kysely<Database>, enter: Enter): Promise<void> {
  const mill = await enter<{ version: number } & Record<string, unknown>>('GET', '/mill');
  await enter('PUT', '/mill', {
    ...mill,
    name: 'Dunfallow Gulch Mill (invented)',
    address: 'Dunfallow Gulch\n(an invented place)',
    feedUnit: 'loader',
    feedTonnesPerUnit: '0.6',
    feedMoistureFrac: '0.06',
  });
  await trx.updateTable('mill').set({ isDemo: true }).execute();

  const [season] = await enter<{ id: string; version: number }[]>('GET', '/seasons');
  if (season === undefined) throw new Error('demo: a new database has a season');
  await enter('PUT', `/seasons/${season.id}`, { ...SEASON, version: season.version });

  const quotations = inventedQuotations('2025-10-01', DEMO_DAY);
  for (let i = 0; i < quotations.length; i += 500)
    await trx
      .insertInto('quotation')
      .values(quotations.slice(i, i + 500))
      .execute();

  const balances = await loadBalances(enter);
  const supplies = await loadSupplies(enter);
  const treatments = await loadTreatments(enter, supplies);
  const terms = await loadTerms(enter);
  const days = await inventedDays(trx, supplies);
  const lots = await loadLots(enter, season.id, days);
  await loadTrials(enter, { lots, treatments, supplies, balances });
  const batches = new Map<string, string>();
  for (const { lot, treatment, buyer, reason, ...batch } of BATCHES) {
    const chosen = {
      treatmentId: treatment === null ? null : treatments.get(treatment),
      termsId: terms.get(buyer),
    };
    const about = { lotId: lots.get(lot), dryMassKg: batch.dryMassKg, assumptions: {} };
    const decision =
      reason === null
        ? null
        : await enter('POST', '/decisions', { ...about, decidedOn: batch.plannedOn, chosen, reason });
    const { id } = await enter('POST', '/batches', {
      ...batch,
      ...about,
      ...chosen,
      decisionId: decision?.id ?? null,
    });
    batches.set(batch.code, id);
  }
  await inventedStatements(enter, { batches, terms, supplies });
  await inventedStock(enter, { seasonId: season.id, supplies });
  await inventedMovements(enter, { seasonId: season.id, lots, batches, supplies, days });
}

async function loadBalances(enter: Enter): Promise<{ sample: string; bead: string }> {
  const ids = new Map<string, string>();
  for (const balance of BALANCES) ids.set(balance.name, (await enter('POST', '/balances', balance)).id);
  for (const { balance, readings, ...check } of BALANCE_CHECKS)
    await enter('POST', `/balances/${ids.get(balance)}/checks`, {
      ...check,
      kind: typeof readings[0] === 'number' ? 'repeat-weighing' : 'check-weights',
      readings: readings.map((one) =>
        typeof one === 'number' ? { readingG: one } : { nominalMassG: one[0], readingG: one[1] },
      ),
    });
  const [sample, bead] = BALANCES.map(({ name }) => ids.get(name) ?? '');
  return { sample: sample ?? '', bead: bead ?? '' };
}

async function loadSupplies(enter: Enter): Promise<Map<string, string>> {
  const ids = new Map<string, string>();
  for (const { price, ...supply } of SUPPLIES) {
    const { id } = await enter('POST', '/supplies', supply);
    await enter('POST', `/supplies/${id}/prices`, { effectiveOn: '2026-04-01', price, currency: 'USD' });
    ids.set(supply.name, id);
  }
  return ids;
}

async function loadTreatments(enter: Enter, supplies: Map<string, string>): Promise<Map<string, string>> {
  const ids = new Map<string, string>();
  for (const one of TREATMENTS) {
    const { recipe, labourSupply, fuelSupply, crucibleSupply, cupelSupply, ...rest } = one;
    const { leadReturn, gold, silver, ...fields } = rest;
    const { id } = await enter('POST', '/treatments', {
      ...fields,
      recipe: Object.entries(recipe).map(([name, gramsPerHundredG]) => ({
        supplyId: supplies.get(name),
        gramsPerHundredG,
      })),
      labourSupplyId: supplies.get(labourSupply),
      fuelSupplyId: supplies.get(fuelSupply),
      crucibleSupplyId: supplies.get(crucibleSupply),
      cupelSupplyId: supplies.get(cupelSupply),
      leadReturnLowFrac: leadReturn[0],
      leadReturnModeFrac: leadReturn[1],
      leadReturnHighFrac: leadReturn[2],
      goldRecoveryMeanFrac: gold[0],
      goldRecoverySdFrac: gold[1],
      silverRecoveryMeanFrac: silver[0],
      silverRecoverySdFrac: silver[1],
    });
    ids.set(fields.name, id);
  }
  return ids;
}

async function loadTerms(enter: Enter): Promise<Map<string, string>> {
  const contracts: [buyer: string, address: string, body: Terms][] = [
    ['Brackenmoor Smelting (invented)', 'Brackenmoor Works\n(an invented place)', smelterTerms],
    ['Quillhaven Metals (invented)', 'Quillhaven Yard\n(an invented place)', traderTerms],
    ['Vellorin Refining (invented)', 'Vellorin House\n(an invented place)', refinerTerms],
  ];
  const ids = new Map<string, string>();
  for (const [name, address, body] of contracts) {
    const counterparty = await enter('POST', '/counterparties', { name, address });
    const { id } = await enter('POST', '/terms', {
      counterpartyId: counterparty.id,
      name: body.title,
      validFrom: '2026-04-01',
      body,
    });
    ids.set(name, id);
  }
  return ids;
}

async function loadLots(
  enter: Enter,
  seasonId: string,
  days: Awaited<ReturnType<typeof inventedDays>>,
): Promise<Map<string, string>> {
  const ids = new Map<string, string>();
  for (const { minerals, ...lot } of LOTS) {
    const { id } = await enter('POST', '/lots', {
      ...lot,
      seasonId,
      parts: partsOfDays(days.get(lot.code) ?? [], lot.madeOn),
      minerals: Object.entries(minerals).map(([mineral, massFrac]) => ({ mineral, massFrac })),
    });
    ids.set(lot.code, id);
  }
  for (const { lot, ...assay } of LAB_ASSAYS)
    await enter('POST', `/lots/${ids.get(lot)}/lab-assays`, {
      ...assay,
      laboratory: 'Pennywhistle Assay Office (invented)',
      certificate: 'PW-2214',
      assayedOn: '2026-06-30',
      method: assay.element === 'As' ? 'acid digestion' : 'fire assay',
      sampleMassG: 500,
    });
  for (const { lot, ...sampling } of SAMPLINGS)
    await enter('PUT', `/lots/${ids.get(lot)}/sampling`, sampling);
  return ids;
}

/** What a laboratory found in the products of a test; most were not sent to one. */
function productAssays(lot: string, trial: string, sample: string): Record<string, number> {
  const found = PRODUCT_ASSAYS.find((one) => one.lot === lot && one.trial === trial && one.sample === sample);
  if (found === undefined) return {};
  const { lot: _lot, trial: _trial, sample: _sample, ...assays } = found;
  return assays;
}

async function loadTrials(
  enter: Enter,
  known: {
    lots: Map<string, string>;
    treatments: Map<string, string>;
    supplies: Map<string, string>;
    balances: { sample: string; bead: string };
  },
): Promise<void> {
  for (const { lot, name, treatment, smelts } of TRIALS) {
    const trial = await enter('POST', '/trials', {
      lotId: known.lots.get(lot),
      treatmentId: known.treatments.get(treatment),
      name,
    });
    const recipe: Record<string, string | undefined> =
      TREATMENTS.find((one) => one.name === treatment)?.recipe ?? {};
    for (const [sample, smeltedOn, sampleMassG, roast, lead, litharge, iron, ...rest] of smelts) {
      const [buttonG, matteG, slagG, beadMg, partedGoldMg, remarks] = rest;
      const reagents = Object.entries(recipe)
        .filter(([supply]) => !['Collector lead', 'Iron scrap', 'Litharge'].includes(supply))
        .map(([supply, grams]) => ({
          supplyId: known.supplies.get(supply),
          massG: Math.round((Number(grams) * sampleMassG) / 100),
        }));
      if (litharge !== null) reagents.push({ supplyId: known.supplies.get('Litharge'), massG: litharge });
      await enter('POST', '/test-smelts', {
        trialId: trial.id,
        sample,
        smeltedOn,
        sampleMassG,
        roasted: roast !== null,
        massBeforeRoastG: roast === null ? null : sampleMassG,
        massAfterRoastG: roast?.[0] ?? null,
        roastHours: roast?.[1] ?? null,
        roastTempC: roast?.[2] ?? null,
        reagents,
        collectorLeadG: lead ?? 0,
        ironInG: iron?.[0] ?? null,
        ironOutG: iron?.[1] ?? null,
        buttonG,
        matteG,
        slagG,
        beadMg,
        partedGoldMg,
        ...productAssays(lot, name, sample),
        blankMgPerLeadG: 0.02,
        blankStandardUncertaintyMgPerLeadG: 0.005,
        sampleBalanceId: known.balances.sample,
        beadBalanceId: known.balances.bead,
        remarks,
      });
    }
  }
}
