import type { Insertable } from 'kysely';
import type { Database } from '../../../db/schema.ts';
import { addDays } from '../../../api/calc/calendar.ts';
import { createRandom, type Random } from '../../../api/calc/random.ts';

/** The rows of one invented season, by table, in the order in which they can be entered. */
export type SeasonRows = { [Table in keyof Database]?: Insertable<Database[Table]>[] };

/** What the seasons share: the records of the demo that lots, batches and statements lean on. */
export interface Shared {
  supplies: { kind: string; id: string; unit: string }[];
  treatmentIds: string[];
  termsId: string;
  counterpartyId: string;
  balanceId: string;
  /** A forecast as it was frozen for a batch of the demo, as JSON text. */
  forecast: string;
  /** A decision as it was frozen in the demo, as JSON text. */
  decision: string;
  /** What a statement about a bar of so many grams was worked from, and what came of it. */
  statementOf: (bar: {
    code: string;
    productId: string;
    grams: number;
    goldFineness: number;
    silverFineness: number;
    issuedOn: string;
  }) => { input: string; settlement: string; total: string };
}

/** How much of everything a season has: ten of them are 3,650 days, 5,000 lots, 20,000 test smelts, 10,000 batches, 3,000 statements. */
export const SEASON_SIZE = { days: 365, lots: 500, smeltsPerLot: 4, batchesPerLot: 2, statements: 300 };

/** kg that the test smelts of a lot take. */
const TESTED_KG = 0.1 * SEASON_SIZE.smeltsPerLot;
/** Of one lot in fifty something is left over, of the others nothing; and one bead in twenty is kept. */
const treatedFrac = (place: number): number => (place % 50 === 0 ? 0.9 : 1);
const BEAD_KEPT_EVERY = 20;
/** For one lot in five the owner recorded what was decided; its batches name the decision. */
const DECIDED_EVERY = 5;
/** What each batch takes of a mass: even parts to the gram, and the last what is left. */
const takenKg = (massKg: number, batches: number, place: number): number => {
  const part = Math.floor((1000 * massKg) / batches) / 1000;
  return place < batches - 1 ? part : massKg - part * (batches - 1);
};

const fixed = (value: number, decimals: number): string => value.toFixed(decimals);

/** One invented season of a mill that works every day of the year: seeded, so that it is the same at every making. */
export function seasonRows(
  year: number,
  shared: Shared,
  size = SEASON_SIZE,
): Required<Pick<SeasonRows, 'lot'>> & SeasonRows {
  const random = createRandom(year, 'ten-seasons');
  const id = idMaker(random);
  const first = `${year}-01-01`;
  const season = { id: id(), name: `Invented ${year}`, startsOn: first, endsOn: `${year}-12-31` };
  const rows: Required<Pick<SeasonRows, 'lot'>> & SeasonRows = {
    season: [season],
    supplyPurchase: purchases(first, shared, random, id),
    expense: Array.from({ length: 12 }, (_, month) => ({
      id: id(),
      spentOn: `${year}-${String(month + 1).padStart(2, '0')}-05`,
      kind: 'rent' as const,
      amount: '350.00',
      currency: 'USD',
      payee: 'Invented landlord',
    })),
    ...days(season.id, first, shared, random, id, size.days),
    lot: [],
  };
  const dayIds = (rows.productionDay ?? []).map((day) => day.id);
  const tables = {
    lotPart: [] as Insertable<Database['lotPart']>[],
    lotMineral: [] as Insertable<Database['lotMineral']>[],
    trial: [] as Insertable<Database['trial']>[],
    testSmelt: [] as Insertable<Database['testSmelt']>[],
    testSmeltReagent: [] as Insertable<Database['testSmeltReagent']>[],
    labAssay: [] as Insertable<Database['labAssay']>[],
    decision: [] as Insertable<Database['decision']>[],
    batch: [] as Insertable<Database['batch']>[],
    batchConsumption: [] as Insertable<Database['batchConsumption']>[],
    product: [] as Insertable<Database['product']>[],
    shipment: [] as Insertable<Database['shipment']>[],
    shipmentProduct: [] as Insertable<Database['shipmentProduct']>[],
    writeOff: [] as Insertable<Database['writeOff']>[],
    statement: [] as Insertable<Database['statement']>[],
  };
  let statements = 0;
  for (let place = 0; place < size.lots; place += 1) {
    const dayPlace = Math.min(size.days - 1, Math.floor((place * (size.days - 12)) / size.lots));
    const madeOn = addDays(first, dayPlace);
    const code = `I${year}-${String(place + 1).padStart(3, '0')}`;
    const lotId = id();
    const wetMassKg = fixed((40 + 15 * random.uniform()) / 0.92, 3);
    const dryKg = 0.92 * Number(wetMassKg);
    const goldGpt = random.lognormal({ median: 180, sdLog: 0.3 });
    const silverGpt = goldGpt * (2.5 + random.uniform());
    rows.lot.push({
      id: lotId,
      seasonId: season.id,
      code,
      madeOn,
      wetMassKg,
      moistureFrac: '0.08',
      description: 'Invented lot',
    });
    tables.lotMineral.push({ lotId, mineral: 'pyrite', massFrac: '0.7' });
    tables.lotPart.push({
      id: id(),
      lotId,
      productionDayId: dayIds[dayPlace] ?? '',
      dryMassKg: fixed(dryKg, 3),
      takenOn: madeOn,
    });
    tables.labAssay.push({
      id: id(),
      lotId,
      laboratory: 'Invented laboratory',
      assayedOn: addDays(madeOn, 3),
      element: 'Au',
      unit: 'g/t',
      value: fixed(goldGpt * (1 + 0.03 * random.normal()), 1),
      standardUncertainty: fixed(goldGpt * 0.03, 2),
    });
    testSmelts(tables, { lotId, madeOn, goldGpt, silverGpt, count: size.smeltsPerLot }, shared, random, id);
    const treatmentId = shared.treatmentIds[place % shared.treatmentIds.length] ?? null;
    const decisionId = place % DECIDED_EVERY === 0 ? id() : null;
    if (decisionId !== null)
      tables.decision.push({
        id: decisionId,
        lotId,
        decidedOn: addDays(madeOn, 1),
        dryMassKg: fixed(dryKg, 3),
        treatmentId,
        termsId: shared.termsId,
        reason: 'Invented',
        frozen: shared.decision,
      });
    for (let n = 0; n < size.batchesPerLot; n += 1) {
      const startedOn = addDays(madeOn, 4 + 3 * n);
      const finishedOn = addDays(startedOn, 2);
      const batchId = id();
      const treatedKg = takenKg(dryKg * treatedFrac(place) - TESTED_KG, size.batchesPerLot, n);
      const recovery = 0.88 + 0.08 * random.uniform();
      const goldG = (treatedKg * goldGpt * recovery) / 1000;
      const silverG = (treatedKg * silverGpt * recovery) / 1000;
      tables.batch.push({
        id: batchId,
        code: `${code}-${n + 1}`,
        lotId,
        treatmentId,
        decisionId,
        termsId: shared.termsId,
        status: 'done',
        plannedOn: addDays(madeOn, 2),
        dryMassKg: fixed(treatedKg, 5),
        forecast: shared.forecast,
        startedOn,
        finishedOn,
        furnaceHours: fixed(3 + random.uniform(), 2),
        labourHours: fixed(6 + random.uniform(), 2),
        leadInKg: '18.000',
        leadBackKg: fixed(16 + random.uniform(), 3),
      });
      for (const supply of shared.supplies.filter(({ kind }) => kind === 'reagent' || kind === 'fuel'))
        tables.batchConsumption.push({
          batchId,
          supplyId: supply.id,
          quantity: fixed(2 + 3 * random.uniform(), 2),
        });
      const barId = id();
      const isBar = statements < size.statements && (place * size.batchesPerLot + n) % 3 === 0;
      const massG = (goldG + silverG) / 0.95;
      const product = {
        batchId,
        madeOn: finishedOn,
        goldFinenessFrac: fixed(goldG / massG, 4),
        silverFinenessFrac: fixed(silverG / massG, 4),
      };
      tables.product.push({
        ...product,
        id: barId,
        code: `${code}-${n + 1}-${isBar ? 'BAR' : 'BEAD'}`,
        kind: isBar ? 'bar' : 'bead',
        massKg: fixed(massG / 1000, 5),
      });
      const matteId = id();
      tables.product.push({
        batchId,
        id: matteId,
        code: `${code}-${n + 1}-M`,
        kind: 'matte',
        madeOn: finishedOn,
        massKg: fixed(treatedKg * 0.1, 3),
        goldFinenessFrac: fixed(((goldGpt * (1 - recovery)) / 0.1) * 0.8e-6, 8),
        silverFinenessFrac: fixed(((silverGpt * (1 - recovery)) / 0.1) * 0.8e-6, 8),
      });
      tables.writeOff.push({
        id: id(),
        productId: matteId,
        writtenOffOn: addDays(finishedOn, 40),
        massKg: fixed(treatedKg * 0.1, 3),
        reason: 'Ground and given back with the tailings',
      });
      if (!isBar && place % BEAD_KEPT_EVERY !== 0)
        tables.writeOff.push({
          id: id(),
          productId: barId,
          writtenOffOn: addDays(finishedOn, 10),
          massKg: fixed(massG / 1000, 5),
          reason: 'Melted into a bar with others',
        });
      if (!isBar) continue;
      statements += 1;
      const shipmentId = id();
      const shippedOn = addDays(finishedOn, 2);
      const issuedOn = addDays(shippedOn, 3);
      tables.shipment.push({
        id: shipmentId,
        code: `${code}-S`,
        counterpartyId: shared.counterpartyId,
        shippedOn,
        arrivedOn: addDays(shippedOn, 1),
        insuredFor: '5000',
        insuredCurrency: 'USD',
      });
      tables.shipmentProduct.push({ shipmentId, productId: barId });
      tables.statement.push({
        id: id(),
        number: `I${year}-${String(statements).padStart(4, '0')}`,
        productId: barId,
        termsId: shared.termsId,
        stage: 'final',
        status: 'issued',
        issuedOn,
        supersedesId: null,
        currency: 'USD',
        ...shared.statementOf({
          code: `${code}-${n + 1}-BAR`,
          productId: barId,
          grams: massG,
          goldFineness: (1000 * goldG) / massG,
          silverFineness: (1000 * silverG) / massG,
          issuedOn,
        }),
      });
    }
  }
  return { ...rows, ...tables };
}

/** Version 4 ids out of the seeded numbers, so that a mill made twice is the same. */
function idMaker(random: Random): () => string {
  const hex = (digits: number): string =>
    Math.floor(random.uniform() * 16 ** digits)
      .toString(16)
      .padStart(digits, '0');
  return () => `${hex(8)}-${hex(4)}-4${hex(3)}-8${hex(3)}-${hex(8)}${hex(4)}`;
}

function purchases(
  first: string,
  { supplies }: Shared,
  random: Random,
  id: () => string,
): Insertable<Database['supplyPurchase']>[] {
  return supplies
    .filter(({ kind }) => kind !== 'labour')
    .flatMap((supply) =>
      Array.from({ length: 12 }, (_, month) => ({
        id: id(),
        supplyId: supply.id,
        boughtOn: addDays(first, month * 30),
        quantity: '600',
        amount: fixed(600 * (1 + random.uniform()), 2),
        currency: 'USD',
        supplier: 'Invented supplier',
      })),
    );
}

function days(
  seasonId: string,
  first: string,
  { supplies }: Shared,
  random: Random,
  id: () => string,
  count: number,
): SeasonRows {
  const fuel = supplies.find(({ kind }) => kind === 'fuel');
  const labour = supplies.find(({ kind }) => kind === 'labour');
  const productionDay = Array.from({ length: count }, (_, place) => ({
    id: id(),
    seasonId,
    day: addDays(first, place),
    feedQuantity: fixed(8 + 4 * random.uniform(), 2),
    feedUnit: 't' as const,
    feedTonnesPerUnit: '1',
    feedMoistureFrac: '0.05',
    feedGoldGpt: fixed(3 + random.uniform(), 2),
    tailingsGoldGpt: fixed(0.7 + 0.2 * random.uniform(), 2),
    concentrateWetKg: fixed(160 + 30 * random.uniform(), 1),
    concentrateMoistureFrac: '0.08',
    hoursRun: fixed(7 + random.uniform(), 1),
  }));
  return {
    productionDay,
    productionDaySupply:
      fuel === undefined
        ? []
        : productionDay.map((day) => ({
            productionDayId: day.id,
            supplyId: fuel.id,
            quantity: fixed(1 + random.uniform(), 2),
          })),
    productionDayLabour:
      labour === undefined
        ? []
        : productionDay.flatMap((day) =>
            ['Invented hand', 'Another invented hand'].map((person, place) => ({
              productionDayId: day.id,
              place,
              person,
              supplyId: labour.id,
              hours: '8',
            })),
          ),
  };
}

function testSmelts(
  tables: {
    trial: Insertable<Database['trial']>[];
    testSmelt: Insertable<Database['testSmelt']>[];
    testSmeltReagent: Insertable<Database['testSmeltReagent']>[];
  },
  lot: { lotId: string; madeOn: string; goldGpt: number; silverGpt: number; count: number },
  { supplies, treatmentIds, balanceId }: Shared,
  random: Random,
  id: () => string,
): void {
  const reagents = supplies.filter(({ kind }) => kind === 'reagent').slice(0, 3);
  for (const [place, treatmentId] of treatmentIds.slice(0, 2).entries()) {
    const trialId = id();
    tables.trial.push({ id: trialId, lotId: lot.lotId, treatmentId, name: `Trial ${place + 1}` });
    for (let n = 0; n < lot.count / 2; n += 1) {
      const smeltId = id();
      const recovery = 0.85 + 0.1 * random.uniform();
      const goldMg = 0.1 * lot.goldGpt * recovery * (1 + 0.02 * random.normal());
      tables.testSmelt.push({
        id: smeltId,
        trialId,
        sample: `${place + 1}${'abcdef'[n] ?? ''}`,
        smeltedOn: addDays(lot.madeOn, 2),
        sampleMassG: '100',
        roasted: false,
        collectorLeadG: '35',
        buttonG: fixed(31 + 2 * random.uniform(), 2),
        matteG: fixed(8 + 3 * random.uniform(), 2),
        beadMg: fixed(goldMg + 0.1 * lot.silverGpt * recovery, 2),
        partedGoldMg: fixed(goldMg, 2),
        sampleBalanceId: balanceId,
        beadBalanceId: balanceId,
      });
      for (const reagent of reagents)
        tables.testSmeltReagent.push({
          testSmeltId: smeltId,
          supplyId: reagent.id,
          massG: fixed(20 + 10 * random.uniform(), 1),
        });
    }
  }
}
