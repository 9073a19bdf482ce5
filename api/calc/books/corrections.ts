import {
  figuresLess,
  monthName,
  sumFigures,
  type BookEntry,
  type EntryRef,
  type Figures,
} from './book-entry.ts';

/** What a closed month was made of, as it was frozen. Months are named `2026-07`. */
export interface FrozenMonth {
  month: string;
  entries: BookEntry[];
  /** Corrections of earlier months that were made in it. */
  corrections: Correction[];
}

/** A change of something that a closed month had counted, or should have. */
export interface Correction {
  /** Of the entry that it corrects. */
  key: string;
  label: string;
  ref: EntryRef;
  /** The closed month in which the entry counted, or counts now. */
  corrects: string;
  /** What the closed months say of it in all, corrections made since among them; none: it was not there. */
  was: Figures;
  /** What the records say now; none: it is gone, or counts in an open month. */
  is: Figures;
  /** is − was, without what did not change. */
  difference: Figures;
}

/**
 * What has changed since in entries that closed months froze: for each key, what the records say now of the days of
 * closed months, less what those months and the corrections frozen with them say in all. Added to some open month,
 * the differences bring the sum of all months to what the records say as they stand, whatever was changed and in
 * whatever order months were closed: Σ frozen + Σ (now − frozen) = Σ now.
 */
export function correctionsOf({
  frozen,
  current,
}: {
  frozen: readonly FrozenMonth[];
  /** Entries as the records stand, of closed months at least. */
  current: readonly BookEntry[];
}): Correction[] {
  const closed = new Set(frozen.map(({ month }) => month));
  const now = new Map<string, BookEntry>();
  for (const entry of current) if (closed.has(monthName(entry.on))) now.set(entry.key, entry);

  const before = new Map<
    string,
    { entry: Pick<BookEntry, 'label' | 'ref'>; month: string; all: Figures[] }
  >();
  for (const { month, entries, corrections } of frozen.toSorted((a, b) => a.month.localeCompare(b.month))) {
    for (const { key, label, ref, figures } of entries) {
      const kept = before.get(key);
      before.set(key, { entry: { label, ref }, month, all: [...(kept?.all ?? []), figures] });
    }
    for (const { key, label, ref, corrects, difference } of corrections) {
      const kept = before.get(key);
      before.set(key, {
        entry: { label, ref },
        month: kept?.month ?? corrects,
        all: [...(kept?.all ?? []), difference],
      });
    }
  }
  return [...new Set([...before.keys(), ...now.keys()])].toSorted().flatMap((key): Correction[] => {
    const kept = before.get(key);
    const entry = now.get(key);
    const named = entry ?? kept?.entry;
    if (named === undefined) return [];
    const was = figuresLess(sumFigures(kept?.all ?? []), {});
    const is = figuresLess(entry?.figures ?? {}, {});
    const difference = figuresLess(is, was);
    if (Object.keys(difference).length === 0) return [];
    const corrects = entry === undefined ? kept?.month : monthName(entry.on);
    return [{ key, label: named.label, ref: named.ref, corrects: corrects ?? '', was, is, difference }];
  });
}

/** By key, what entries of a month say now less what was frozen of them; keys that agree are left out. */
export function differingEntries(
  frozen: readonly BookEntry[],
  current: readonly BookEntry[],
): Record<string, Figures> {
  const now = new Map(current.map(({ key, figures }) => [key, figures]));
  const was = new Map(frozen.map(({ key, figures }) => [key, figures]));
  return Object.fromEntries(
    [...new Set([...was.keys(), ...now.keys()])].flatMap((key): [string, Figures][] => {
      const difference = figuresLess(now.get(key) ?? {}, was.get(key) ?? {});
      return Object.keys(difference).length === 0 ? [] : [[key, difference]];
    }),
  );
}

/**
 * The keys of entries that closed months say something else of than their records do, from what differs in each month
 * and the corrections that were frozen since: those whose differences do not come to nothing in all. Months that agree
 * with their records need not be read for it: they add the same to both.
 */
export function correctedKeys(
  months: Iterable<{ differing: Record<string, Figures>; corrections: readonly Correction[] }>,
): Set<string> {
  const open = new Map<string, Figures>();
  for (const { differing, corrections } of months) {
    for (const [key, difference] of Object.entries(differing))
      open.set(key, sumFigures([open.get(key) ?? {}, difference]));
    for (const { key, difference } of corrections)
      open.set(key, figuresLess(open.get(key) ?? {}, difference));
  }
  return new Set(
    [...open].flatMap(([key, left]) => (Object.keys(figuresLess(left, {})).length === 0 ? [] : [key])),
  );
}

/**
 * The open month in which a correction shows: that in which the record was last changed, or the first open one where
 * that is earlier or the change is not known to the audit trail (as when the average price of a supply moved).
 */
export function shownIn(changedOn: string | null, firstOpenMonth: string): string {
  const made = changedOn === null ? '' : monthName(changedOn);
  return made > firstOpenMonth ? made : firstOpenMonth;
}
