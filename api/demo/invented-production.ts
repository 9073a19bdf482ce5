import type { Kysely } from 'kysely';
import type { z } from 'zod';
import { addDays, isBusinessDay } from '../calc/calendar.ts';
import { Dec, sumOf } from '../calc/money.ts';
import { createRandom } from '../calc/random.ts';
import { newProductionDay } from '../schemas/production-day.ts';
import { insertDays } from '../../db/queries/import-days.ts';
import type { Database } from '../../db/schema.ts';
import type { Enter } from './load-demo-season.ts';

/** What was fed and won in the working days up to the day on which a lot was made of them. */
const CAMPAIGNS = [
  { lot: 'L-01', from: '2026-05-01', to: '2026-06-11', dryKg: '585.6', feedGoldGpt: 7.1, feedSilverGpt: 24 },
  { lot: 'L-02', from: '2026-06-12', to: '2026-07-17', dryKg: '385.05', feedGoldGpt: 1.9, feedSilverGpt: 52 },
  { lot: 'L-03', from: '2026-07-20', to: '2026-09-03', dryKg: '756.5', feedGoldGpt: 3.4, feedSilverGpt: 9 },
  { lot: 'L-04', from: '2026-09-04', to: '2026-09-24', dryKg: '271.2', feedGoldGpt: 4.6, feedSilverGpt: 15 },
  { lot: null, from: '2026-09-25', to: '2026-10-14', dryKg: '236', feedGoldGpt: 4.4, feedSilverGpt: 14 },
] as const;

const LOADER_T = 0.6;
const FEED_MOISTURE = 0.06;
const MOISTURE = 0.1;
/** Of the metal that comes with the feed, what stays in the tailings. */
const LOST_FRAC = 0.2;
const FRIDAY = 5;

const REMARKS: Record<string, string> = {
  '2026-05-05': 'Belt slipping in the wet; half a day lost.',
  '2026-06-22': 'Riffles of table 2 cleaned and levelled.',
  '2026-08-19': 'Water low; one table only.',
  '2026-10-08': 'First frost: lines drained in the evening.',
};

interface MadeDay {
  id: string;
  concentrateDryKg: string;
}

function workingDays(from: string, to: string): string[] {
  const days: string[] = [];
  for (let day = from; day <= to; day = addDays(day, 1)) if (isBusinessDay(day)) days.push(day);
  return days;
}

/** The daily log of the season, and the days of each lot. */
export async function inventedDays(
  trx: Kysely<Database>,
  supplies: Map<string, string>,
): Promise<Map<string, MadeDay[]>> {
  const random = createRandom(11, 'demo/days');
  const byLot = new Map<string, MadeDay[]>();
  const [helper, diesel] = [supplies.get('Helper') ?? '', supplies.get('Diesel') ?? ''];
  for (const { lot, from, to, dryKg, feedGoldGpt, feedSilverGpt } of CAMPAIGNS) {
    const days = workingDays(from, to);
    // Around the mean, to the hectogram wet; the last day takes what the others leave.
    const meanWetKg = new Dec(dryKg).div(1 - MOISTURE).div(days.length);
    const wetKg = days
      .slice(0, -1)
      .map(() => meanWetKg.times(1 + 0.18 * (random.uniform() - 0.5)).toFixed(1));
    wetKg.push(
      new Dec(dryKg)
        .div(1 - MOISTURE)
        .minus(sumOf(wetKg))
        .toFixed(1),
    );
    const made: z.input<typeof newProductionDay>[] = [];
    for (const [at, day] of days.entries()) {
      const loads = 4 + Math.round(2 * random.uniform());
      const assayed = new Date(`${day}T00:00:00Z`).getUTCDay() === FRIDAY;
      const grade = (mean: number, share: number): string | null =>
        assayed ? (share * mean * (1 + 0.12 * random.normal())).toFixed(2) : null;
      made.push({
        day,
        feedQuantity: String(loads),
        feedUnit: 'loader',
        feedTonnesPerUnit: String(LOADER_T),
        feedMoistureFrac: String(FEED_MOISTURE),
        feedGoldGpt: grade(feedGoldGpt, 1),
        feedSilverGpt: grade(feedSilverGpt, 1),
        tailingsGoldGpt: grade(feedGoldGpt, LOST_FRAC),
        tailingsSilverGpt: grade(feedSilverGpt, LOST_FRAC),
        concentrateWetKg: wetKg[at],
        concentrateMoistureFrac: String(MOISTURE),
        hoursRun: (6.5 + Math.round(3 * random.uniform()) / 2).toFixed(1),
        supplies: [{ supplyId: diesel, quantity: String(13 + Math.round(5 * random.uniform())) }],
        labour: [
          { person: 'First helper (invented)', supplyId: helper, hours: '3' },
          ...(at % 3 !== 0 ? [] : [{ person: 'Second helper (invented)', supplyId: helper, hours: '2' }]),
        ],
        remarks: REMARKS[day] ?? '',
      });
    }
    const ids = await insertDays(
      trx,
      made.map((one) => newProductionDay.parse(one)),
    );
    if (lot !== null)
      byLot.set(
        lot,
        ids.map((id, at) => ({
          id,
          concentrateDryKg: new Dec(wetKg[at] ?? '0').times(1 - MOISTURE).toFixed(),
        })),
      );
  }
  return byLot;
}

/** All concentrate of days, taken on the day that a lot was made. */
export function partsOfDays(days: readonly MadeDay[], takenOn: string) {
  return days.map(({ id, concentrateDryKg }) => ({
    source: 'day',
    sourceId: id,
    dryMassKg: concentrateDryKg,
    takenOn,
  }));
}

const DIESEL = [
  ['2026-04-30', '700', '875'],
  ['2026-06-26', '700', '882'],
  ['2026-08-28', '700', '896'],
] as const;

/**
 * What happened to lots and products beside batches and statements: a lot split, a part of it blended with another,
 * matte worked up again, slag thrown away, and two shipments, of which one is insured for too little.
 */
export async function inventedMovements(
  enter: Enter,
  known: {
    seasonId: string;
    lots: Map<string, string>;
    batches: Map<string, string>;
    supplies: Map<string, string>;
    days: Map<string, MadeDay[]>;
  },
): Promise<void> {
  const { seasonId, lots, batches, supplies, days } = known;
  for (const [boughtOn, quantity, amount] of DIESEL)
    await enter('POST', '/supply-purchases', {
      supplyId: supplies.get('Diesel'),
      boughtOn,
      quantity,
      amount,
      currency: 'USD',
      supplier: 'Crossways fuel depot (invented)',
      paidOn: boughtOn,
    });
  const lot = (fields: object) => enter('POST', '/lots', { seasonId, moistureFrac: '0', ...fields });
  const part = (source: string, sourceId: string | undefined, dryMassKg: string, takenOn: string) => ({
    source,
    sourceId,
    dryMassKg,
    takenOn,
  });

  const lower = await lot({
    code: 'L-04',
    description: 'Table concentrate from the lower bench',
    madeOn: '2026-09-25',
    wetMassKg: '301.5',
    moistureFrac: '0.1',
    minerals: [
      { mineral: 'pyrite', massFrac: '0.55' },
      { mineral: 'quartz', massFrac: '0.25' },
    ],
    parts: partsOfDays(days.get('L-04') ?? [], '2026-09-25'),
  });
  for (const [element, value, standardUncertainty] of [
    ['Au', '612', '17'],
    ['Ag', '1930', '45'],
    ['As', '0.21', '0.02'],
  ] as const)
    await enter('POST', `/lots/${lower.id}/lab-assays`, {
      laboratory: 'Pennywhistle Assay Office (invented)',
      certificate: 'PW-2291',
      assayedOn: '2026-10-06',
      method: element === 'As' ? 'acid digestion' : 'fire assay',
      element,
      unit: element === 'As' ? 'percent' : 'g/t',
      value,
      standardUncertainty,
      sampleMassG: 500,
    });
  const fines = await lot({
    code: 'L-05',
    description: 'Fines screened out of L-04',
    madeOn: '2026-09-28',
    wetMassKg: '110.4',
    moistureFrac: '0.095',
    parts: [part('lot', lower.id, '100', '2026-09-28')],
  });
  await lot({
    code: 'L-06',
    description: 'L-03 thinned with fines, to bring the arsenic down',
    madeOn: '2026-10-02',
    wetMassKg: '388.5',
    moistureFrac: '0.102',
    parts: [part('lot', lots.get('L-03'), '260', '2026-10-02'), part('lot', fines.id, '90', '2026-10-02')],
  });

  const product = (batch: string, fields: object) =>
    enter('POST', `/batches/${batches.get(batch)}/products`, fields);
  const matte = await product('B-01', {
    code: 'MATTE-01',
    kind: 'matte',
    madeOn: '2026-07-08',
    massKg: '7.2',
    goldFinenessFrac: '0.00058',
    silverFinenessFrac: '0.0024',
    goldStandardUncertaintyFrac: '0.00003',
    silverStandardUncertaintyFrac: '0.0001',
  });
  await lot({
    code: 'L-07',
    description: 'Matte of B-01, crushed to be roasted',
    madeOn: '2026-07-20',
    wetMassKg: '7.2',
    parts: [part('product', matte.id, '7.2', '2026-07-20')],
  });
  const slag = await product('B-01', {
    code: 'SLAG-01',
    kind: 'slag',
    madeOn: '2026-07-08',
    massKg: '138',
    goldFinenessFrac: '0.000009',
    silverFinenessFrac: '0.00004',
  });
  await enter('POST', '/write-offs', {
    productId: slag.id,
    writtenOffOn: '2026-08-03',
    massKg: '138',
    reason: 'Assayed at 9 g/t: does not pay another smelt. Dry stacked behind the shed.',
  });

  const counterparties = await enter<{ id: string; name: string }[]>('GET', '/counterparties');
  const buyer = (name: string) => counterparties.find((one) => one.name.startsWith(name))?.id;
  const productIds = async (batch: string, code: string) => {
    const { products } = await enter<{ products: { id: string; code: string }[] }>(
      'GET',
      `/batches/${batches.get(batch)}`,
    );
    return products.filter((one) => one.code === code).map(({ id }) => id);
  };
  const carrier = 'Hollin & Rake carriers (invented)';
  await enter('POST', '/shipments', {
    code: 'SH-01',
    counterpartyId: buyer('Vellorin'),
    shippedOn: '2026-07-10',
    arrivedOn: '2026-07-14',
    carrier,
    seals: '00417, 00418',
    insuredFor: '9000',
    insuredCurrency: 'USD',
    insurer: 'Stanmoor Mutual (invented)',
    productIds: await productIds('B-01', 'BAR-01'),
  });
  await enter('POST', '/shipments', {
    code: 'SH-02',
    counterpartyId: buyer('Brackenmoor'),
    shippedOn: '2026-08-05',
    arrivedOn: '2026-08-12',
    carrier,
    seals: '00421 to 00423',
    insuredFor: '5000',
    insuredCurrency: 'USD',
    insurer: 'Stanmoor Mutual (invented)',
    remarks: 'Three drums on one pallet.',
    productIds: await productIds('B-03', 'PARCEL-01'),
  });
}
