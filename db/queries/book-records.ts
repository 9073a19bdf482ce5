import { sql, type Kysely } from 'kysely';
import { bookBatches } from './book-batches.ts';
import { bookPayments, bookProducts, bookShipments, bookStatements } from './book-sales.ts';
import { listExpenses } from './expenses.ts';
import { selectParts } from './lot-parts.ts';
import { findMill } from './mill.ts';
import { listProductionDays } from './production-days.ts';
import { stocksBefore } from './month-states.ts';
import { stockLedgers } from './stock-ledgers.ts';
import { listSupplies } from './supplies.ts';
import { listWriteOffs } from './write-offs.ts';
import { costsOf, type MovementCost } from '../../api/calc/books/batch-cost.ts';
import { dayCost } from '../../api/calc/books/day-cost.ts';
import type {
  BookDay,
  BookLot,
  BookLotPurchase,
  BookRecords,
  BookStockEntry,
  BookSupply,
  BookSupplyCount,
  BookSupplyPurchase,
  BookTestSmelt,
  BookWriteOff,
} from '../../api/calc/books/book-records.ts';
import type { DatedRate } from '../../api/calc/books/exchange.ts';
import type { StockState } from '../../api/calc/books/moving-average.ts';
import { Dec, sumOf } from '../../api/calc/money.ts';
import type { Finding } from '../../api/calc/finding.ts';
import type { Database } from '../schema.ts';

/** First and last day of a range, both in it. */
export interface DayRange {
  from: string;
  to: string;
}

/** What of a supply was in stock at the end of a day. */
export interface SupplyInStock {
  name: string;
  unit: string;
  state: StockState;
}

/**
 * All records that count in a range of days, what their stock ledgers had to say, and the supplies in stock at the end
 * of a day of the range. Statements are large: whoever takes them elsewhere leaves them out.
 */
export async function bookRecords(
  db: Kysely<Database>,
  range: DayRange,
  { withStatements = true }: { withStatements?: boolean } = {},
): Promise<{ records: BookRecords; findings: Finding[]; inStock: (day: string) => SupplyInStock[] }> {
  const { currency } = await findMill(db);
  const supplies = await listSupplies(db);
  const books = { supplies, millCurrency: currency };
  const from = await stocksBefore(db, books, range.from);
  const { ledgers, findings } = await stockLedgers(db, books, { from, upTo: range.to });
  const stockEntries = [...ledgers].flatMap(([supplyId, { entries }]): BookStockEntry[] =>
    entries
      .map((entry, at) => ({
        ...entry,
        supplyId,
        opens: at === 0 && !from.states.has(supplyId) && entry.kind === 'count',
      }))
      .filter(({ on }) => on >= range.from),
  );
  const costs = new Map([...ledgers.values()].flatMap(costsOf));
  const dated = {
    days: await bookDays(db, range, { supplies, costs }),
    lots: await bookLots(db, range),
    lotParts: await selectParts(db)
      .where('lotPart.takenOn', '>=', range.from)
      .where('lotPart.takenOn', '<=', range.to)
      .execute(),
    lotPurchases: await bookLotPurchases(db, range),
    testSmelts: await bookTestSmelts(db, range),
    batches: await bookBatches(db, range, { supplies, costs }),
    products: await bookProducts(db, range),
    shipments: await bookShipments(db, range),
    statements: withStatements ? await bookStatements(db, range) : [],
    payments: await bookPayments(db, range),
    supplyPurchases: await bookSupplyPurchases(db, range),
    supplyCounts: await bookSupplyCounts(db, range),
    expenses: await listExpenses(db, range),
    writeOffs: await bookWriteOffs(db, range),
  };
  const others = [
    ...dated.statements,
    ...dated.payments,
    ...dated.supplyPurchases,
    ...dated.lotPurchases,
    ...dated.expenses,
  ].flatMap((one) => (one.currency === currency ? [] : [one.currency]));
  return {
    records: {
      ...range,
      currency,
      supplies: supplies.map(({ id, name, kind, unit, prices }): BookSupply => ({
        id,
        name,
        kind,
        unit,
        prices,
      })),
      ...dated,
      stockEntries,
      rates: await ratesOf(db, others, range.to),
    },
    inStock: (day) =>
      [...ledgers].flatMap(
        ([
          supplyId,
          {
            supply: { name, unit },
            entries,
          },
        ]) => {
          const state = entries.findLast(({ on }) => on <= day)?.after ?? from.states.get(supplyId);
          return state === undefined ? [] : [{ name, unit, state }];
        },
      ),
    findings: [
      ...findings,
      ...[...ledgers.values()].flatMap((ledger) =>
        ledger.findings.map((finding) => ({ ...finding, path: `/supplies/${ledger.supply.id}` })),
      ),
    ],
  };
}

/** The rates of some currencies up to a day. */
export async function ratesOf(
  db: Kysely<Database>,
  currencies: readonly string[],
  to: string,
): Promise<DatedRate[]> {
  if (currencies.length === 0) return [];
  return db
    .selectFrom('exchangeRate')
    .select(['currency', 'ratedOn', 'rate'])
    .where('currency', 'in', [...new Set(currencies)])
    .where('ratedOn', '<=', to)
    .execute();
}

async function bookDays(
  db: Kysely<Database>,
  range: DayRange,
  { supplies, costs }: { supplies: readonly BookSupply[]; costs: ReadonlyMap<string, MovementCost> },
): Promise<BookDay[]> {
  return (await listProductionDays(db, range)).map((day) => ({
    id: day.id,
    day: day.day,
    feedWetT:
      day.feedQuantity === null ? null : new Dec(day.feedQuantity).times(day.feedTonnesPerUnit).toFixed(),
    feedDryT: day.feedDryT,
    concentrateDryKg: day.concentrateDryKg,
    hoursRun: day.hoursRun,
    assays: {
      feedGoldGpt: day.feedGoldGpt,
      feedSilverGpt: day.feedSilverGpt,
      tailingsGoldGpt: day.tailingsGoldGpt,
      tailingsSilverGpt: day.tailingsSilverGpt,
    },
    labourHours: sumOf(day.labour.map(({ hours }) => hours)).toFixed(),
    cost: dayCost(day, supplies, costs),
  }));
}

async function bookLots(db: Kysely<Database>, { from, to }: DayRange): Promise<BookLot[]> {
  return db
    .selectFrom('lot')
    .leftJoin('counterparty', 'counterparty.id', 'lot.ownerCounterpartyId')
    .select(['lot.id', 'lot.code', 'lot.madeOn', 'counterparty.name as ownerName'])
    .select(sql<string>`trim_scale(lot.wet_mass_kg * (1 - lot.moisture_frac))`.as('dryMassKg'))
    .where('lot.madeOn', '>=', from)
    .where('lot.madeOn', '<=', to)
    .orderBy('lot.madeOn')
    .orderBy('lot.code')
    .execute();
}

async function bookLotPurchases(db: Kysely<Database>, { from, to }: DayRange): Promise<BookLotPurchase[]> {
  return db
    .selectFrom('lotPurchase')
    .innerJoin('lot', 'lot.id', 'lotPurchase.lotId')
    .selectAll('lotPurchase')
    .select('lot.code as lotCode')
    .where('boughtOn', '>=', from)
    .where('boughtOn', '<=', to)
    .orderBy('boughtOn')
    .orderBy('lot.code')
    .execute();
}

async function bookTestSmelts(db: Kysely<Database>, { from, to }: DayRange): Promise<BookTestSmelt[]> {
  return db
    .selectFrom('testSmelt')
    .innerJoin('trial', 'trial.id', 'testSmelt.trialId')
    .innerJoin('lot', 'lot.id', 'trial.lotId')
    .select([
      'testSmelt.id',
      'lot.id as lotId',
      'lot.code as lotCode',
      'testSmelt.smeltedOn',
      'testSmelt.sampleMassG',
    ])
    .where('smeltedOn', '>=', from)
    .where('smeltedOn', '<=', to)
    .orderBy('smeltedOn')
    .orderBy('testSmelt.id')
    .execute();
}

async function bookSupplyPurchases(
  db: Kysely<Database>,
  { from, to }: DayRange,
): Promise<BookSupplyPurchase[]> {
  return db
    .selectFrom('supplyPurchase')
    .select([
      'id',
      'supplyId',
      'boughtOn',
      'quantity',
      'amount',
      'currency',
      'supplier',
      'document',
      'paidOn',
    ])
    .where('boughtOn', '>=', from)
    .where('boughtOn', '<=', to)
    .orderBy('boughtOn')
    .orderBy('id')
    .execute();
}

async function bookSupplyCounts(db: Kysely<Database>, { from, to }: DayRange): Promise<BookSupplyCount[]> {
  return db
    .selectFrom('supplyCount')
    .select(['id', 'supplyId', 'countedOn', 'quantity'])
    .where('countedOn', '>=', from)
    .where('countedOn', '<=', to)
    .orderBy('countedOn')
    .orderBy('id')
    .execute();
}

async function bookWriteOffs(db: Kysely<Database>, range: DayRange): Promise<BookWriteOff[]> {
  return (await listWriteOffs(db, range)).map(
    ({ id, lotId, productId, code, writtenOffOn, massKg, reason }) => ({
      id,
      of: lotId === null ? 'product' : 'lot',
      sourceId: lotId ?? productId ?? '',
      code,
      writtenOffOn,
      massKg,
      reason,
    }),
  );
}
