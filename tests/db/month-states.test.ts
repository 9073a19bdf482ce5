import fc from 'fast-check';
import type { Kysely } from 'kysely';
import { beforeAll, expect, it } from 'vitest';
import { loadDemoSeason } from '../../api/demo/load-demo-season.ts';
import { addDays, monthOf } from '../../api/calc/calendar.ts';
import { listBatches } from '../../db/queries/batches.ts';
import { ensureMill } from '../../db/queries/mill.ts';
import { stocksBefore } from '../../db/queries/month-states.ts';
import { movementCosts, stockLedgers } from '../../db/queries/stock-ledgers.ts';
import { listSupplies } from '../../db/queries/supplies.ts';
import type { Database } from '../../db/schema.ts';
import { describeOnEveryEngine } from '../support/engines.ts';
import { loadSeasons } from '../support/ten-seasons/load.ts';
import { SEASON_SIZE } from '../support/ten-seasons/records.ts';

type Change = (db: Kysely<Database>, pick: number, day: string) => Promise<unknown>;

const idOf = async (
  db: Kysely<Database>,
  table: 'supplyPurchase' | 'supply' | 'batch' | 'productionDay' | 'supplyCount',
  pick: number,
): Promise<string> => {
  const rows = await db.selectFrom(table).select('id').orderBy('id').execute();
  return rows[pick % Math.max(1, rows.length)]?.id ?? '00000000-0000-4000-8000-000000000000';
};

/** What may happen to records that stocks rest on, each of one place and day. */
const CHANGES: Record<string, Change> = {
  bought: async (db, pick, day) =>
    db
      .insertInto('supplyPurchase')
      .values({
        id: crypto.randomUUID(),
        supplyId: await idOf(db, 'supply', pick),
        boughtOn: day,
        quantity: String(1 + (pick % 50)),
        amount: '77.70',
        currency: pick % 5 === 0 ? 'CAD' : 'USD',
      })
      .execute(),
  'purchase removed': async (db, pick) =>
    db
      .deleteFrom('supplyPurchase')
      .where('id', '=', await idOf(db, 'supplyPurchase', pick))
      .execute(),
  'purchase put to another day': async (db, pick, day) =>
    db
      .updateTable('supplyPurchase')
      .set({ boughtOn: day })
      .where('id', '=', await idOf(db, 'supplyPurchase', pick))
      .execute(),
  counted: async (db, pick, day) =>
    db
      .insertInto('supplyCount')
      .values({
        id: crypto.randomUUID(),
        supplyId: await idOf(db, 'supply', pick),
        countedOn: day,
        quantity: String(pick % 90),
      })
      .onConflict((conflict) => conflict.doNothing())
      .execute(),
  'batch finished on another day': async (db, pick, day) =>
    db
      .updateTable('batch')
      .set({ startedOn: addDays(day, -1), finishedOn: day })
      .where('id', '=', await idOf(db, 'batch', pick))
      .execute(),
  'batch cancelled': async (db, pick) =>
    db
      .updateTable('batch')
      .set({ status: 'cancelled' })
      .where('id', '=', await idOf(db, 'batch', pick))
      .execute(),
  'lead weighed again': async (db, pick) =>
    db
      .updateTable('batch')
      .set({ leadBackKg: String(pick % 17) })
      .where('id', '=', await idOf(db, 'batch', pick))
      .execute(),
  'consumption put right': async (db, pick) =>
    db
      .updateTable('batchConsumption')
      .set({ quantity: String(1 + (pick % 9)) })
      .where('batchId', '=', await idOf(db, 'batch', pick))
      .execute(),
  'fuel of a day forgotten': async (db, pick) =>
    db
      .deleteFrom('productionDaySupply')
      .where('productionDayId', '=', await idOf(db, 'productionDay', pick))
      .execute(),
  'rate entered': async (db, pick, day) =>
    db
      .insertInto('exchangeRate')
      .values({ currency: 'CAD', ratedOn: day, rate: String(0.5 + (pick % 5) / 10) })
      .onConflict((conflict) => conflict.doNothing())
      .execute(),
};

describeOnEveryEngine('stocks at the ends of months that are kept', (open) => {
  let db: Kysely<Database>;
  beforeAll(async () => {
    ({ db } = await open());
    await ensureMill(db, 2026);
    await loadDemoSeason(db);
    const size = { ...SEASON_SIZE, days: 200, lots: 30, statements: 3 };
    await loadSeasons(db, { seasons: 1, lastYear: 2024, size });
  }, 120_000);

  const books = async () => ({ supplies: await listSupplies(db), millCurrency: 'USD' });

  it('are those of a walk through all the years, whatever is changed', { timeout: 240_000 }, async () => {
    const change = fc.record({
      name: fc.constantFrom(...Object.keys(CHANGES)),
      pick: fc.nat(10_000),
      after: fc.nat(700),
    });
    let lastKept = 0;
    await fc.assert(
      fc.asyncProperty(
        fc.array(change, { minLength: 1, maxLength: 4 }),
        fc.nat(30),
        async (changes, months) => {
          const asked = monthOf('2024-01-01', months).from;
          for (const { name, pick, after } of changes) {
            await CHANGES[name]?.(db, pick, addDays('2024-01-01', after));
            const kept = await stocksBefore(db, await books(), asked);
            const { ledgers } = await stockLedgers(db, await books(), { upTo: kept.asOf });
            const anew = [...ledgers].flatMap(([supplyId, { closing }]) =>
              closing ? [[supplyId, closing]] : [],
            );
            expect(kept.asOf).toBe(monthOf(asked, -1).to);
            expect(Object.fromEntries(kept.states)).toEqual(Object.fromEntries(anew));
          }
          const { length } = await db.selectFrom('monthState').select('month').execute();
          lastKept = Math.max(lastKept, length);
        },
      ),
      { numRuns: 12, seed: 20_261_125 },
    );
    expect(lastKept).toBeGreaterThan(5);
  });

  it(
    'leave the cost of every batch as a walk through all the years finds it',
    { timeout: 120_000 },
    async () => {
      const all = await movementCosts(db, await books());
      const batches = await listBatches(db);
      const lastMonth =
        batches
          .map(({ finishedOn }) => finishedOn ?? '')
          .toSorted()
          .at(-1) ?? '';
      const [newest] = batches.filter(({ finishedOn }) => finishedOn === lastMonth);
      const [alone] = await listBatches(db, { lotId: newest?.lotId });
      expect(batches.length).toBeGreaterThan(60);
      for (const { id, costs } of [...batches, alone!])
        for (const line of costs.filter(
          ({ pricedBy, quantity }) => pricedBy === 'average' && Number(quantity) > 0,
        )) {
          const known = [all.get(`batch:${id}:${line.supplyId}`), all.get(`batch-lead-in:${id}`)];
          expect(known.map((one) => one?.amount)).toContain(line.amount);
        }
    },
  );

  it('are thrown away from the month of a change on, and no further back', async () => {
    await stocksBefore(db, await books(), '2024-12-01');
    await CHANGES['bought']?.(db, 3, '2024-07-15');
    const left = await db
      .selectFrom('monthState')
      .select('month')
      .orderBy('month', 'desc')
      .executeTakeFirst();
    expect(left?.month).toBe('2024-06-01');
  });
});
