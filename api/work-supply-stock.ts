import type { Kysely } from 'kysely';
import { daysBetween } from './calc/calendar.ts';
import type { StockEntry as LedgerEntry, StockState } from './calc/books/moving-average.ts';
import { stockOutlook } from './calc/books/stock-outlook.ts';
import { Dec, sumOf } from './calc/money.ts';
import { plannedNeeds, plannedSheets, sheetBooks, type SheetBooks } from './planned-work.ts';
import type { StockOverview, SupplyStock } from './schemas/supply-stock.ts';
import { listBatches } from '../db/queries/batches.ts';
import { NotFound } from '../db/queries/changed.ts';
import { listSeasons } from '../db/queries/mill.ts';
import { stocksBefore } from '../db/queries/month-states.ts';
import { stockLedgers, type SupplyLedger } from '../db/queries/stock-ledgers.ts';
import { lastCounts } from '../db/queries/supply-counts.ts';
import type { Database } from '../db/schema.ts';

/** So many of the newest movements are shown of one supply. */
const SHOWN_ENTRIES = 200;

/** What was used from a day on, less what came back. */
function netUseSince(entries: readonly LedgerEntry[], from: string): string {
  return sumOf(
    entries
      .filter(({ kind, on }) => on >= from && (kind === 'use' || kind === 'return'))
      .map(({ quantity }) => quantity),
  )
    .negated()
    .toFixed();
}

async function seasonOn(db: Kysely<Database>, on: string): Promise<{ startsOn: string } | null> {
  return (await listSeasons(db)).find(({ startsOn, endsOn }) => startsOn <= on && on <= endsOn) ?? null;
}

async function outlooks(
  db: Kysely<Database>,
  books: SheetBooks,
  { ledgers, today }: { ledgers: ReadonlyMap<string, SupplyLedger>; today: string },
) {
  const ahead = await listBatches(db, { statuses: ['planned', 'running'] });
  const needs = plannedNeeds(await plannedSheets(db, books, ahead), books, today);
  const season = await seasonOn(db, today);
  const worked = stockOutlook({
    supplies: books.supplies.map(({ id }) => {
      const ledger = ledgers.get(id);
      return {
        supplyId: id,
        quantity: ledger?.closing?.quantity ?? null,
        usedInSeason:
          season === null || ledger === undefined ? '0' : netUseSince(ledger.entries, season.startsOn),
      };
    }),
    needs,
    seasonDays: season && daysBetween(season.startsOn, today) + 1,
    today,
  });
  return { ahead, bySupply: new Map(worked.map(({ supplyId, ...one }) => [supplyId, one])) };
}

const NO_OUTLOOK = { usedPerDay: null, daysLeft: null, plannedQuantity: '0', shortage: null };

/**
 * The ledgers of the season that a day is in, or of its month. A stock that ran short before and still is has its
 * ledger from the beginning, which says since when.
 */
async function seasonLedgers(db: Kysely<Database>, { supplies, mill }: SheetBooks, today: string) {
  const books = { supplies, millCurrency: mill.currency };
  const from = await stocksBefore(db, books, (await seasonOn(db, today))?.startsOn ?? today);
  const { ledgers, findings } = await stockLedgers(db, books, { from, upTo: today });
  const isShort = (state: StockState | null | undefined): boolean =>
    state != null && new Dec(state.quantity).isNegative();
  const longShort = [...ledgers].flatMap(([id, { closing }]) =>
    isShort(closing) && isShort(from.states.get(id)) ? [id] : [],
  );
  if (longShort.length > 0) {
    const whole = await stockLedgers(db, books, { supplyIds: longShort, upTo: today });
    for (const [id, ledger] of whole.ledgers) ledgers.set(id, ledger);
  }
  return { ledgers, findings };
}

/** What is in stock of every supply on a day, how long it lasts, and what the planned batches will lack. */
export async function stockOverview(db: Kysely<Database>, today: string): Promise<StockOverview> {
  const books = await sheetBooks(db);
  const { ledgers, findings } = await seasonLedgers(db, books, today);
  const { ahead, bySupply } = await outlooks(db, books, { ledgers, today });
  const counted = await lastCounts(db, today);
  const lines = books.supplies
    .filter(({ kind }) => kind !== 'labour')
    .map(({ id, name, kind, unit }) => ({
      supplyId: id,
      name,
      kind,
      unit,
      stock: ledgers.get(id)?.closing ?? null,
      lastCountedOn: counted.get(id) ?? null,
      outlook: bySupply.get(id) ?? NO_OUTLOOK,
    }));
  return {
    asOf: today,
    currency: books.mill.currency,
    lines,
    totalValue: sumOf(lines.map(({ stock }) => stock?.value ?? '0')).toFixed(2),
    plannedBatches: ahead
      .filter(({ treatmentId }) => treatmentId !== null)
      .map(({ id, code, startedOn, plannedOn }) => ({ id, code, on: startedOn ?? plannedOn })),
    findings: [...findings, ...stillOpen(ledgers)],
  };
}

/** Of what ledgers found, what is still so at their end: a stock that was negative once and is not any more is history. */
function stillOpen(ledgers: ReadonlyMap<string, SupplyLedger>) {
  return [...ledgers.values()].flatMap(({ findings, closing }) => {
    const isShort = closing !== null && new Dec(closing.quantity).isNegative();
    const lastShort = findings.findLast(({ code }) => code === 'stock-negative');
    return findings.filter((one) => one.code !== 'stock-negative' || (isShort && one === lastShort));
  });
}

/** One supply's stock as a ledger, up to a day. */
export async function supplyStock(
  db: Kysely<Database>,
  supplyId: string,
  today: string,
): Promise<SupplyStock> {
  const books = await sheetBooks(db);
  const supply = books.supplies.find(({ id }) => id === supplyId);
  if (supply === undefined) throw new NotFound('supply');
  const { ledgers, findings } = await stockLedgers(
    db,
    { supplies: books.supplies, millCurrency: books.mill.currency },
    { upTo: today, supplyIds: [supplyId] },
  );
  const ledger = ledgers.get(supplyId);
  const { bySupply } = await outlooks(db, books, { ledgers, today });
  const entries = ledger?.entries ?? [];
  const shown = entries.slice(-SHOWN_ENTRIES);
  return {
    supplyId,
    name: supply.name,
    kind: supply.kind,
    unit: supply.unit,
    asOf: today,
    currency: books.mill.currency,
    stock: ledger?.closing ?? null,
    entries: shown.flatMap((entry) => {
      const source = ledger?.movements.get(entry.key)?.source;
      return source === undefined ? [] : [{ ...entry, source }];
    }),
    earlierEntries: entries.length - shown.length,
    outlook: bySupply.get(supplyId) ?? NO_OUTLOOK,
    findings: [...findings, ...(ledger?.findings ?? [])],
  };
}
