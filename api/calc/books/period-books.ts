import { Dec, sumOf } from '../money.ts';
import { addDays, monthOf } from '../calendar.ts';
import { monthName } from './book-entry.ts';
import { inventoriesOn, writeDownEntry, type InventoryFacts, type InventoryItem } from './inventories.ts';
import { trialBalance, type JournalEntry } from './journal.ts';
import type { FrozenJournal } from './journal-corrections.ts';
import { monetaryItemsOn, revaluationEntry, type MonetaryItem } from './monetary-items.ts';
import { isBalanceSheetAccount, openingEntry } from './opening-entry.ts';
import type { AllBooks, PeriodBooksFacts } from './period-journal.ts';
import type { StatementBooking } from './statement-entries.ts';

export interface PeriodBooks {
  from: string;
  to: string;
  /** Null where nothing was booked before. */
  opening: JournalEntry | null;
  /** Of the period, by day. */
  entries: JournalEntry[];
  trial: TrialRow[];
  /** At the end of the last day, by the records as they stand. */
  inventories: InventoryItem[];
  monetary: MonetaryItem[];
  /**
   * By account, what the records as they stand say beyond the closing balance: what was changed in closed months and
   * is booked after the period. Without accounts where it is nothing.
   */
  bookedLater: Map<string, string>;
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

export interface PeriodBooksInput extends PeriodBooksFacts {
  from: string;
  to: string;
  all: AllBooks;
  realizableOn: (day: string) => InventoryFacts['realizable'];
  /** Journals of closed months as they were when these were closed. */
  frozen: readonly FrozenJournal[];
  /** Of closed months, in the months that are still open. */
  corrections: readonly JournalEntry[];
}

/** What the last day of a period books beside what happened on it. */
type Ends = Record<'writeDown' | 'revaluation', JournalEntry | null>;

/**
 * The books of a period: opening balances, journal, trial balance, inventories, what is open.
 *
 * Closed months say what they said when they were closed; what has changed in them since is booked in an open month.
 * Inventories and foreign money are judged at the end of the period and at the end of the day before it: the earlier
 * write-down and closing rates are part of the opening balances and are taken back, the write-down on the last day and
 * the rates on the first, and what is due at the end is booked (IAS 2 §33; IAS 21 §23, §28). So each period opens with
 * what the one before closed with.
 */
export function periodBooks(facts: PeriodBooksInput): PeriodBooks {
  const { from, to, all, frozen, corrections } = facts;
  const closed = new Set(frozen.map(({ month }) => month));
  const booked = [
    ...frozen.flatMap((month) => [...month.entries, ...month.corrections]),
    ...all.entries.filter(({ on }) => !closed.has(monthName(on))),
    ...corrections,
  ].toSorted(inOrder);
  const before = addDays(from, -1);
  const earlier = booked.filter(({ on }) => on < from);
  const beganWith = earlier.length === 0 ? null : endsOn(facts, before);
  const endsWith = endsOn(facts, to);
  const opening = openingEntry([...earlier, ...entriesOf(beganWith?.ends)], from);
  const entries = [
    ...takenBack(beganWith?.ends.revaluation ?? null, {
      on: from,
      description:
        'Closing rates of the day before taken back: payments count at the rate of their statement',
    }),
    ...booked.filter(({ on }) => on >= from && on <= to),
    ...takenBack(beganWith?.ends.writeDown ?? null, {
      on: to,
      description: 'Write-down of the period before taken back, to be judged anew',
    }),
    ...entriesOf(endsWith.ends),
  ];
  const trial = trialOf(opening, entries);
  return {
    from,
    to,
    opening,
    entries,
    trial,
    inventories: endsWith.inventories,
    monetary: endsWith.monetary,
    bookedLater:
      frozen.length === 0 ? new Map<string, string>() : bookedLater(facts, endsWith.asTheyStand, trial),
    bookings: all.bookings,
  };
}

function entriesOf(ends: Ends | undefined): JournalEntry[] {
  return ends === undefined ? [] : [ends.revaluation, ends.writeDown].filter((entry) => entry !== null);
}

/** What a day ends with: where a month was closed with it, as it was then. */
function endsOn(facts: PeriodBooksInput, day: string) {
  const { all, frozen } = facts;
  const inventories = inventoriesOn({ ...facts, moves: all.moves, realizable: facts.realizableOn(day) }, day);
  const monetary = monetaryItemsOn({ ...facts, bookings: all.bookings }, day);
  const asTheyStand: Ends = {
    writeDown: writeDownEntry({ items: inventories, on: day, key: 'write-down' }),
    revaluation: revaluationEntry({ items: monetary, on: day, key: 'revaluation' }),
  };
  const kept = monthOf(day).to === day ? frozen.find(({ month }) => month === monthName(day)) : undefined;
  return { inventories, monetary, asTheyStand, ends: kept ?? asTheyStand };
}

/** An entry with its sides changed. */
function takenBack(
  entry: JournalEntry | null,
  about: Pick<JournalEntry, 'on' | 'description'>,
): JournalEntry[] {
  if (entry === null) return [];
  const lines = entry.lines.map((line) => ({ ...line, debit: line.credit, credit: line.debit }));
  return [{ ...entry, ...about, key: `${entry.key}-taken-back`, lines }];
}

function bookedLater(
  { all, to }: PeriodBooksInput,
  ends: Ends,
  trial: readonly TrialRow[],
): Map<string, string> {
  const asTheyStand = trialBalance([...all.entries.filter(({ on }) => on <= to), ...entriesOf(ends)]);
  const closing = new Map(trial.map((row) => [row.account, row.closing]));
  const accounts = [...new Set([...asTheyStand.keys(), ...closing.keys()])].filter(
    (account) => isBalanceSheetAccount(account) && account !== 'opening-balance',
  );
  return new Map(
    accounts.flatMap((account): [string, string][] => {
      const later = new Dec(asTheyStand.get(account) ?? 0).minus(closing.get(account) ?? 0);
      return later.isZero() ? [] : [[account, later.toFixed(2)]];
    }),
  );
}

/** By day, then by key. */
function inOrder(a: JournalEntry, b: JournalEntry): number {
  return a.on < b.on ? -1 : a.on > b.on ? 1 : a.key < b.key ? -1 : 1;
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
