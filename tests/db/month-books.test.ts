import fc from 'fast-check';
import { sql, type Kysely } from 'kysely';
import { beforeAll, expect, it } from 'vitest';
import { closeMonth } from '../../api/close-month.ts';
import { correctionsOf } from '../../api/calc/books/corrections.ts';
import { addDays, monthOf } from '../../api/calc/calendar.ts';
import { loadDemoSeason } from '../../api/demo/load-demo-season.ts';
import { booksByMonth, openCorrections } from '../../api/month-books.ts';
import { frozenMonths } from '../../db/queries/closed-months.ts';
import { forgetOthersFigures } from '../../db/queries/kept.ts';
import { ensureMill } from '../../db/queries/mill.ts';
import { millMovements, millStateOn } from '../../db/queries/mill-state.ts';
import { workedBook } from '../../db/queries/month-books.ts';
import type { Database } from '../../db/schema.ts';
import { describeOnEveryEngine } from '../support/engines.ts';
import { loadSeasons } from '../support/ten-seasons/load.ts';
import { SEASON_SIZE } from '../support/ten-seasons/records.ts';

const TODAY = '2024-11-20';
const YEAR = { from: '2024-01-01', to: '2024-12-31' };

type Table =
  | 'lot'
  | 'batch'
  | 'product'
  | 'statement'
  | 'expense'
  | 'shipment'
  | 'writeOff'
  | 'productionDay'
  | 'lotPart';

async function idOf(db: Kysely<Database>, table: Table, pick: number): Promise<string> {
  const rows = await db.selectFrom(table).select('id').orderBy('id').execute();
  return rows[pick % Math.max(1, rows.length)]?.id ?? '00000000-0000-4000-8000-000000000000';
}

type Change = (db: Kysely<Database>, pick: number, day: string) => Promise<unknown>;

/** What may happen to records that a month counts. */
const CHANGES: Record<string, Change> = {
  'lot weighed again': async (db, pick) =>
    db
      .updateTable('lot')
      .set({ wetMassKg: sql`wet_mass_kg + ${pick % 7}` })
      .where('id', '=', await idOf(db, 'lot', pick))
      .execute(),
  'lot made on another day': async (db, pick, day) =>
    db
      .updateTable('lot')
      .set({ madeOn: day })
      .where('id', '=', await idOf(db, 'lot', pick))
      .execute(),
  'batch finished on another day': async (db, pick, day) =>
    db
      .updateTable('batch')
      .set({ startedOn: addDays(day, -1), finishedOn: day, status: 'done' })
      .where('id', '=', await idOf(db, 'batch', pick))
      .execute(),
  'batch cancelled': async (db, pick) =>
    db
      .updateTable('batch')
      .set({ status: 'cancelled' })
      .where('id', '=', await idOf(db, 'batch', pick))
      .execute(),
  'bar assayed again': async (db, pick) =>
    db
      .updateTable('product')
      .set({ goldFinenessFrac: String(0.4 + (pick % 50) / 100) })
      .where('id', '=', await idOf(db, 'product', pick))
      .execute(),
  'product made on another day': async (db, pick, day) =>
    db
      .updateTable('product')
      .set({ madeOn: day })
      .where('id', '=', await idOf(db, 'product', pick))
      .execute(),
  spent: async (db, pick, day) =>
    db
      .insertInto('expense')
      .values({
        id: crypto.randomUUID(),
        spentOn: day,
        kind: pick % 2 === 0 ? 'repair' : 'royalty-paid',
        amount: `${1 + (pick % 90)}.50`,
        currency: 'USD',
      })
      .execute(),
  'expense removed': async (db, pick) =>
    db
      .deleteFrom('expense')
      .where('id', '=', await idOf(db, 'expense', pick))
      .execute(),
  'expense moved': async (db, pick, day) =>
    db
      .updateTable('expense')
      .set({ spentOn: day })
      .where('id', '=', await idOf(db, 'expense', pick))
      .execute(),
  'shipment sent on another day': async (db, pick, day) =>
    db
      .updateTable('shipment')
      .set({ shippedOn: day, arrivedOn: null })
      .where('id', '=', await idOf(db, 'shipment', pick))
      .execute(),
  'written off': async (db, pick, day) =>
    db
      .insertInto('writeOff')
      .values({
        id: crypto.randomUUID(),
        writtenOffOn: day,
        reason: 'lost',
        massKg: '0.001',
        ...(pick % 2 === 0
          ? { lotId: await idOf(db, 'lot', pick) }
          : { productId: await idOf(db, 'product', pick) }),
      })
      .execute(),
  paid: async (db, pick, day) =>
    db
      .insertInto('statementPayment')
      .values({
        id: crypto.randomUUID(),
        statementId: await idOf(db, 'statement', pick),
        paidOn: day,
        amount: '10.00',
        currency: 'USD',
        countsAs: '10.00',
      })
      .execute(),
  'hours of a day put right': async (db, pick) =>
    db
      .updateTable('productionDay')
      .set({ hoursRun: String(pick % 24) })
      .where('id', '=', await idOf(db, 'productionDay', pick))
      .execute(),
  'labour of a day put right': async (db, pick) =>
    db
      .updateTable('productionDayLabour')
      .set({ hours: String(1 + (pick % 12)) })
      .where('productionDayId', '=', await idOf(db, 'productionDay', pick))
      .execute(),
  'supply bought': async (db, pick, day) => {
    const supplies = await db.selectFrom('supply').select('id').orderBy('id').execute();
    return db
      .insertInto('supplyPurchase')
      .values({
        id: crypto.randomUUID(),
        supplyId: supplies[pick % supplies.length]?.id ?? '',
        boughtOn: day,
        quantity: String(1 + (pick % 50)),
        amount: '77.70',
        currency: 'USD',
      })
      .execute();
  },
  'supply called otherwise': async (db, pick) =>
    db
      .updateTable('supply')
      .set({ name: sql`'Invented supply ' || id::text || ${String(pick % 9)}` })
      .execute(),
  'hours paid otherwise': async (db, pick) => {
    const wages = await db.selectFrom('supply').select('id').where('kind', '=', 'labour').execute();
    return db
      .updateTable('treatment')
      .set({ labourSupplyId: pick % 2 === 0 ? null : (wages[0]?.id ?? null) })
      .execute();
  },
  'wage of a day': async (db, pick, day) => {
    const wages = await db.selectFrom('supply').select('id').where('kind', '=', 'labour').execute();
    return db
      .insertInto('supplyPrice')
      .values({
        supplyId: wages[0]?.id ?? '',
        effectiveOn: day,
        price: String(10 + (pick % 30)),
        currency: 'USD',
      })
      .onConflict((conflict) => conflict.doNothing())
      .execute();
  },
  'buyer called otherwise': async (db, pick) =>
    db
      .updateTable('counterparty')
      .set({ name: sql`'Invented buyer ' || id::text || ${String(pick % 9)}` })
      .execute(),
};

const change = fc.record({
  name: fc.constantFrom(...Object.keys(CHANGES)),
  pick: fc.nat(10_000),
  after: fc.nat(330),
});

const monthsOfYear = Array.from({ length: 12 }, (_, at) => `2024-${String(at + 1).padStart(2, '0')}`);

describeOnEveryEngine('books and places of months that are kept', (open) => {
  let db: Kysely<Database>;
  beforeAll(async () => {
    ({ db } = await open());
    await ensureMill(db, 2026);
    await loadDemoSeason(db);
    const size = { ...SEASON_SIZE, days: 330, lots: 25, statements: 6 };
    await loadSeasons(db, { seasons: 1, lastYear: 2024, size });
  }, 180_000);

  /** All that reports read, once from what is kept and once with nothing kept. */
  async function twice<Result>(look: () => Promise<Result>): Promise<[kept: Result, anew: Result]> {
    await look();
    const kept = await look();
    await sql`delete from month_book`.execute(db);
    await sql`delete from month_place`.execute(db);
    await sql`delete from month_state`.execute(db);
    return [kept, await look()];
  }

  it('are those of the records, whatever is changed', { timeout: 400_000 }, async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.array(change, { minLength: 1, maxLength: 4 }),
        fc.integer({ min: 20, max: 330 }),
        async (changes, lookAfter) => {
          const on = addDays('2024-01-01', lookAfter);
          const look = async () => ({
            state: await millStateOn(db, on),
            end: await millStateOn(db, monthOf(on).to),
            movements: await millMovements(db, monthOf(on)),
            months: [...(await booksByMonth(db, YEAR, TODAY))],
          });
          await look();
          for (const { name, pick, after } of changes)
            await CHANGES[name]?.(db, pick, addDays('2024-01-01', after)).catch((error: unknown) => {
              // What the books refuse changes nothing.
              if (!/constraint/.test(String(error))) throw error;
            });
          const [kept, anew] = await twice(look);
          expect(kept).toEqual(anew);
        },
      ),
      { numRuns: 12, seed: 20_261_126 },
    );
    expect(await db.selectFrom('monthBook').select('month').execute()).toHaveLength(12);
  });

  it('know the places of a day whichever months were looked at before', { timeout: 120_000 }, async () => {
    const days = ['2024-03-31', '2024-06-15', '2024-09-30', '2024-12-31', '2026-10-31'];
    const anew = new Map<string, unknown>();
    for (const day of days) {
      await sql`delete from month_place`.execute(db);
      anew.set(day, await millStateOn(db, day));
    }
    await sql`delete from month_place`.execute(db);
    for (const day of [...days, ...days.toReversed()])
      expect(await millStateOn(db, day)).toEqual(anew.get(day));
  });

  it('are worked anew by another program, and stay for the same', async () => {
    const kept = async () => (await db.selectFrom('monthBook').select('month').execute()).length;
    await forgetOthersFigures(db, 'one program');
    expect(await kept()).toBe(0);
    await booksByMonth(db, YEAR, TODAY);
    expect([await forgetOthersFigures(db, 'one program'), await kept()]).toEqual([false, 12]);
    expect([await forgetOthersFigures(db, 'another'), await kept()]).toEqual([true, 0]);
  });

  it(
    'find the corrections that reading every closed month finds, while months are closed and corrected',
    { timeout: 400_000 },
    async () => {
      const corrections = async () => {
        const frozen = await frozenMonths(db, monthsOfYear);
        const closed = new Set(frozen.map(({ month }) => month));
        const { entries } = await workedBook(db, YEAR);
        return correctionsOf({ frozen, current: entries.filter(({ on }) => closed.has(on.slice(0, 7))) });
      };
      const told = async () =>
        (await openCorrections(db, TODAY)).corrections.map(
          ({ month: _month, changedOn: _on, changedBy: _by, ...one }) => one,
        );
      const unworkedClosed = async () =>
        db
          .selectFrom('closedMonth')
          .select('month')
          .where((where) =>
            where.not(
              where.exists(
                where
                  .selectFrom('monthBook')
                  .select('monthBook.month')
                  .whereRef('monthBook.month', '=', 'closedMonth.month'),
              ),
            ),
          )
          .execute();
      let found = 0;
      await fc.assert(
        fc.asyncProperty(
          fc.array(change, { minLength: 1, maxLength: 3 }),
          fc.boolean(),
          async (changes, closes) => {
            const last = (await db.selectFrom('closedMonth').select('month').execute()).length;
            if (closes && last < 9) await closeMonth(db, monthsOfYear[last] ?? '', TODAY, 'invented owner');
            for (const { name, pick, after } of changes)
              await CHANGES[name]?.(db, pick, addDays('2024-01-01', after)).catch((error: unknown) => {
                if (!/constraint/.test(String(error))) throw error;
              });
            const all = await corrections();
            expect((await openCorrections(db, TODAY, { withinMs: 0 })).pending).toBe(
              (await unworkedClosed()).length,
            );
            expect(await told()).toEqual(all);
            expect((await openCorrections(db, TODAY, { withinMs: 0 })).pending).toBe(0);
            found += all.length;
            // The year's sum is what the records say, whatever is closed.
            const counted = [...(await booksByMonth(db, YEAR, TODAY)).values()];
            const settled = counted.reduce((sum, { figures }) => sum + Number(figures['days'] ?? 0), 0);
            expect(settled).toBe(330);
          },
        ),
        { numRuns: 14, seed: 20_261_127 },
      );
      expect(found).toBeGreaterThan(0);
    },
  );
});
