import { Dec, sumOf } from '../money.ts';
import { addDays } from '../calendar.ts';
import { inventoriesOn, writeDownEntry, type InventoryFacts, type InventoryItem } from './inventories.ts';
import { trialBalance, type JournalEntry } from './journal.ts';
import { openingEntry } from './opening-entry.ts';
import { allBooks, type PeriodBooksFacts } from './period-journal.ts';
import type { StatementBooking } from './statement-entries.ts';

export interface PeriodBooks {
  from: string;
  to: string;
  /** Null where nothing was booked before. */
  opening: JournalEntry | null;
  /** Of the period, by day. */
  entries: JournalEntry[];
  trial: TrialRow[];
  /** At the end of the last day. */
  inventories: InventoryItem[];
  /** Of every statement up to the last day. */
  bookings: StatementBooking[];
}

/** Decimal texts in the mill's currency; balances are debit less credit. */
export interface TrialRow {
  account: string;
  opening: string;
  debit: string;
  credit: string;
  closing: string;
}

/**
 * The books of a period: opening balances, journal, trial balance, inventories. Inventories are judged at the end of the
 * period and at the end of the day before it: the earlier write-down is part of the opening balances, is taken back on
 * the last day, and what is due then is booked (IAS 2 §33).
 */
export function periodBooks(
  facts: PeriodBooksFacts & {
    from: string;
    to: string;
    realizableOn: (day: string) => InventoryFacts['realizable'];
  },
): PeriodBooks {
  const { from, to } = facts;
  const { entries, moves, bookings } = allBooks(facts);
  const before = addDays(from, -1);
  const itemsOn = (day: string): InventoryItem[] =>
    inventoriesOn({ ...facts, moves, realizable: facts.realizableOn(day) }, day);
  const earlier = entries.filter(({ on }) => on < from);
  const itemsBefore = earlier.length === 0 ? [] : itemsOn(before);
  const writtenDown = writeDownEntry({ items: itemsBefore, on: before, key: 'write-down', reversed: false });
  const opening = openingEntry(writtenDown === null ? earlier : [...earlier, writtenDown], from);
  const inventories = itemsOn(to);
  const ends = [
    writeDownEntry({ items: itemsBefore, on: to, key: 'write-down-taken-back', reversed: true }),
    writeDownEntry({ items: inventories, on: to, key: 'write-down', reversed: false }),
  ].filter((entry) => entry !== null);
  const ofPeriod = [...entries.filter(({ on }) => on >= from && on <= to), ...ends];
  return { from, to, opening, entries: ofPeriod, trial: trialOf(opening, ofPeriod), inventories, bookings };
}

function trialOf(opening: JournalEntry | null, entries: readonly JournalEntry[]): TrialRow[] {
  const opened = trialBalance(opening === null ? [] : [opening]);
  const sides = new Map<string, { debit: string[]; credit: string[] }>();
  for (const { lines } of entries)
    for (const { account, debit, credit } of lines) {
      const own = sides.get(account) ?? { debit: [], credit: [] };
      own.debit.push(debit);
      own.credit.push(credit);
      sides.set(account, own);
    }
  return [...new Set([...opened.keys(), ...sides.keys()])].map((account) => {
    const debit = sumOf(sides.get(account)?.debit ?? []);
    const credit = sumOf(sides.get(account)?.credit ?? []);
    const start = new Dec(opened.get(account) ?? 0);
    return {
      account,
      opening: start.toFixed(2),
      debit: debit.toFixed(2),
      credit: credit.toFixed(2),
      closing: start.plus(debit).minus(credit).toFixed(2),
    };
  });
}
