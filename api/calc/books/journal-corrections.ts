import { Dec, type DecimalNumber } from '../money.ts';
import { monthName } from './book-entry.ts';
import { shownIn } from './corrections.ts';
import { journalEntry, type JournalEntry, type JournalLine } from './journal.ts';
import { ROUNDING_ACCOUNT } from './statement-entries.ts';

/** What the journal of a closed month was when it was closed. Months are named `2026-07`. */
export interface FrozenJournal {
  month: string;
  entries: JournalEntry[];
  /** Of earlier months, booked in this one. */
  corrections: JournalEntry[];
  /** What stocks were written down by, and foreign money revalued by, on the last day. */
  writeDown: JournalEntry | null;
  revaluation: JournalEntry | null;
}

/** A difference that no month has booked yet. */
export interface UnbookedCorrection {
  /** Of the entry that it corrects. */
  key: string;
  /** The closed month that it corrects. */
  month: string;
  of: Pick<JournalEntry, 'document' | 'description'>;
  /** Debit less credit by account and memo; decimal texts. */
  was: Map<string, string>;
  is: Map<string, string>;
}

type Known = { of: JournalEntry; month: string; was: Map<string, DecimalNumber> };

/**
 * What has changed since in entries that closed months booked: for each key, what the records say now of the days of
 * closed months, less what those months and the corrections booked since say in all, line by line. Booked in some
 * open month, the differences bring the journal to what the records say, whatever was changed and closed when:
 * Σ frozen + Σ (now − frozen) = Σ now, as the month report does with its figures (`corrections.ts`).
 * Source: IAS 8 §42 asks for earlier periods to be restated where an error is material, which is for the accountant to
 * say; common practice (closed months are not reopened).
 */
export function journalCorrections(
  frozen: readonly FrozenJournal[],
  current: readonly JournalEntry[],
): UnbookedCorrection[] {
  const closed = new Set(frozen.map(({ month }) => month));
  const before = new Map<string, Known>();
  for (const { month, entries, corrections } of frozen)
    for (const entry of [...entries, ...corrections]) {
      const key = entry.corrects?.key ?? entry.key;
      const known = before.get(key);
      before.set(key, {
        of: known?.of ?? entry,
        month: entry.corrects?.month ?? month,
        was: added(known?.was ?? new Map(), entry),
      });
    }
  const now = new Map(
    current.filter(({ on }) => closed.has(monthName(on))).map((entry) => [entry.key, entry]),
  );
  return [...new Set([...before.keys(), ...now.keys()])].toSorted().flatMap((key): UnbookedCorrection[] => {
    const known = before.get(key);
    const entry = now.get(key);
    const of = entry ?? known?.of;
    if (of === undefined) return [];
    const was = texts(known?.was ?? new Map());
    const is = texts(entry === undefined ? new Map() : added(new Map(), entry));
    const isSame = [...new Set([...was.keys(), ...is.keys()])].every((one) => was.get(one) === is.get(one));
    if (isSame) return [];
    return [{ key, month: entry === undefined ? (known?.month ?? '') : monthName(entry.on), of, was, is }];
  });
}

function added(
  sums: ReadonlyMap<string, DecimalNumber>,
  { lines }: JournalEntry,
): Map<string, DecimalNumber> {
  const all = new Map(sums);
  for (const line of lines) {
    const place = `${line.account}\n${plainMemo(line)}`;
    all.set(place, (all.get(place) ?? new Dec(0)).plus(line.debit).minus(line.credit));
  }
  return all;
}

function texts(sums: ReadonlyMap<string, DecimalNumber>): Map<string, string> {
  return new Map([...sums].filter(([, sum]) => !sum.isZero()).map(([place, sum]) => [place, sum.toFixed(2)]));
}

/**
 * A correction as an entry of the month that it shows in: on the day that the record was last changed, or on the first
 * day of the first open month where that is earlier or not known.
 */
export function correctionEntry(
  { key, month, of, was, is }: UnbookedCorrection,
  { changedOn, firstOpenMonth }: { changedOn: string | null; firstOpenMonth: string },
): JournalEntry | null {
  const shown = shownIn(changedOn, firstOpenMonth);
  const on = changedOn !== null && monthName(changedOn) === shown ? changedOn : `${shown}-01`;
  const places = [...new Set([...was.keys(), ...is.keys()])];
  const entry = journalEntry({
    key: `correction:${shown}:${key}`,
    on,
    document: of.document,
    description: `Correction of ${month}: ${of.description}`,
    rate: null,
    roundingAccount: ROUNDING_ACCOUNT,
    postings: places.map((place) => {
      const [account = '', memo = ''] = place.split('\n');
      const [before, now] = [was.get(place) ?? '0.00', is.get(place) ?? '0.00'];
      const amount = new Dec(now).minus(before).toFixed(2);
      return { account, amount, memo: `${memo === '' ? '' : `${memo}: `}was ${before}, is ${now}` };
    }),
  });
  return entry && { ...entry, corrects: { key, month } };
}

/** What a line is for, without what a correction says of the amount. */
export function plainMemo({ memo }: Pick<JournalLine, 'memo'>): string {
  return memo.replace(/(^|: )was -?\d+\.\d\d, is -?\d+\.\d\d$/, '');
}

/** The id of the record that an entry's key names, to find in the audit when it was changed. */
export function recordOfKey(key: string): string {
  return key.split(':').find((part) => UUID.test(part)) ?? '';
}

const UUID = /^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$/;
