import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { monthName } from '../../../api/calc/books/book-entry.ts';
import { journalEntry, trialBalance, type JournalEntry } from '../../../api/calc/books/journal.ts';
import {
  correctionEntry,
  journalCorrections,
  plainMemo,
  recordOfKey,
  type FrozenJournal,
} from '../../../api/calc/books/journal-corrections.ts';

function rent(key: string, on: string, amount: string, account = 'expense-rent'): JournalEntry {
  const entry = journalEntry({
    key,
    on,
    document: `doc ${key}`,
    description: `Rent ${key}`,
    rate: null,
    roundingAccount: 'exchange-difference',
    postings: [
      { account, amount, memo: 'due' },
      { account: 'payable-suppliers', amount: `-${amount}` },
    ],
  });
  if (entry === null) throw new Error('Nothing was booked.');
  return entry;
}

const frozenOf = (
  month: string,
  entries: JournalEntry[],
  corrections: JournalEntry[] = [],
): FrozenJournal => ({
  month,
  entries,
  corrections,
  writeDown: null,
  revaluation: null,
});

describe('corrections of the journal', () => {
  const june = frozenOf('2026-06', [rent('a', '2026-06-03', '100.00'), rent('b', '2026-06-20', '40.00')]);

  it('book the difference in the open month, with what it was, what it is and what it corrects', () => {
    const now = [rent('a', '2026-06-03', '120.00'), rent('b', '2026-06-20', '40.00')];
    const [only, ...others] = journalCorrections([june], now);
    expect(others).toEqual([]);
    if (only === undefined) throw new Error('There is no correction.');
    const entry = correctionEntry(only, { changedOn: '2026-08-09', firstOpenMonth: '2026-07' });
    expect(entry).toMatchObject({
      key: 'correction:2026-08:a',
      on: '2026-08-09',
      document: 'doc a',
      description: 'Correction of 2026-06: Rent a',
      corrects: { key: 'a', month: '2026-06' },
      lines: [
        { account: 'expense-rent', debit: '20.00', credit: '0.00', memo: 'due: was 100.00, is 120.00' },
        { account: 'payable-suppliers', debit: '0.00', credit: '20.00', memo: 'was -100.00, is -120.00' },
      ],
    });
    expect(entry?.lines.map(plainMemo)).toEqual(['due', '']);
    // Changed before the month was closed that it would show in, or nobody knows when.
    for (const changedOn of ['2026-06-30', null])
      expect(correctionEntry(only, { changedOn, firstOpenMonth: '2026-07' })?.on).toBe('2026-07-01');
  });

  it('tell what was removed, came late, moved to an open month or to another account', () => {
    const now = [
      rent('b', '2026-07-02', '40.00'),
      rent('c', '2026-06-30', '7.00'),
      rent('a', '2026-06-03', '100.00', 'expense-other'),
    ];
    const told = journalCorrections([june], now).map(({ key, was, is }) => [key, was.size, is.size]);
    expect(told).toEqual([
      ['a', 2, 2],
      ['b', 2, 0],
      ['c', 0, 2],
    ]);
  });

  it('find the record that an entry names', () => {
    const id = '0192f0a0-1111-7222-8333-944445555666';
    expect(recordOfKey(`expense:${id}:paid`)).toBe(id);
    expect(recordOfKey('write-down')).toBe('');
  });

  it('bring all months together to what the records say, whatever was changed and closed when', () => {
    const put = fc.record({
      kind: fc.constant('put' as const),
      key: fc.constantFrom('a', 'b', 'c', 'd'),
      month: fc.integer({ min: 1, max: 6 }),
      amount: fc.integer({ min: 1, max: 5000 }).map((cents) => (cents / 100).toFixed(2)),
      account: fc.constantFrom('expense-rent', 'expense-other'),
    });
    const remove = fc.record({
      kind: fc.constant('remove' as const),
      key: fc.constantFrom('a', 'b', 'c', 'd'),
    });
    const close = fc.record({ kind: fc.constant('close' as const), late: fc.integer({ min: 0, max: 3 }) });
    fc.assert(
      fc.property(fc.array(fc.oneof(put, put, remove, close), { maxLength: 40 }), (steps) => {
        const records = new Map<string, JournalEntry>();
        const frozen: FrozenJournal[] = [];
        const corrected = (firstOpenMonth: string, late: number): JournalEntry[] =>
          journalCorrections(frozen, [...records.values()]).flatMap((one, at) => {
            const changedOn = at < late ? '2026-12-24' : null;
            return correctionEntry(one, { changedOn, firstOpenMonth }) ?? [];
          });
        for (const step of steps) {
          if (step.kind === 'put')
            records.set(step.key, rent(step.key, `2026-0${step.month}-15`, step.amount, step.account));
          else if (step.kind === 'remove') records.delete(step.key);
          else if (frozen.length < 6) {
            const month = `2026-0${frozen.length + 1}`;
            const ofMonth = ({ on }: JournalEntry): boolean => monthName(on) === month;
            frozen.push(
              frozenOf(
                month,
                [...records.values()].filter(ofMonth),
                corrected(month, step.late).filter(ofMonth),
              ),
            );
          }
        }
        const closed = new Set(frozen.map(({ month }) => month));
        const booked = [
          ...frozen.flatMap(({ entries, corrections }) => [...entries, ...corrections]),
          ...[...records.values()].filter(({ on }) => !closed.has(monthName(on))),
          ...corrected(`2026-0${frozen.length + 1}`, 1),
        ];
        const balances = (entries: JournalEntry[]) =>
          Object.fromEntries([...trialBalance(entries)].filter(([, balance]) => balance !== '0.00'));
        expect(balances(booked)).toEqual(balances([...records.values()]));
      }),
      { numRuns: 300 },
    );
  });
});
