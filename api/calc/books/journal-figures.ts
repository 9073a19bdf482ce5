import { Dec, type DecimalNumber } from '../money.ts';
import type { Figures } from './book-entry.ts';
import type { BookSupply } from './book-records.ts';
import type { JournalEntry, JournalLine } from './journal.ts';
import { plainMemo } from './journal-corrections.ts';
import { DUE } from './statement-entries.ts';

/** Which expense a payment of what is owed already is. */
const PAID: Partial<Record<string, string>> = {
  'wages-payable': 'expense/wages-paid',
  'royalties-payable': 'expense/royalty-paid',
  'production-tax-payable': 'expense/tax-paid',
};

/**
 * The figures of a month's report (`month-entries.ts`) as the journal has them, by the names that they have there:
 * what statements brought, costs of days and batches by kind of supply, concentrate bought, expenses, and differences
 * of stock. Read off the lines of the journal alone, so that the two can be held against each other.
 */
export function journalFigures(
  entries: readonly JournalEntry[],
  supplies: readonly Pick<BookSupply, 'name' | 'kind'>[],
): Figures {
  const kinds = new Map<string, string>(
    supplies.flatMap(({ name, kind }) =>
      [name, `${name}, charged`, `${name}, back`].map((one) => [one, kind]),
    ),
  );
  const sums = new Map<string, DecimalNumber>();
  for (const entry of entries) {
    const key = entry.corrects?.key ?? entry.key;
    for (const line of entry.lines) {
      const [name, sign] = figureOf(key, line, kinds) ?? ['', 0];
      if (sign === 0) continue;
      const amount = new Dec(line.debit).minus(line.credit).times(sign);
      sums.set(name, (sums.get(name) ?? new Dec(0)).plus(amount));
    }
  }
  return Object.fromEntries([...sums].map(([name, sum]) => [name, sum.toFixed(2)]));
}

/** The figure that a line counts to, and the sign with which it does. */
function figureOf(
  key: string,
  line: JournalLine,
  kinds: ReadonlyMap<string, string>,
): [name: string, sign: 1 | -1] | null {
  const { account } = line;
  const [what] = key.split(':');
  if (account === 'stock-difference') return ['stockDifference', 1];
  if (key.endsWith(':paid')) return null;
  switch (what) {
    case 'statement':
      return plainMemo(line) === DUE ? ['settled', 1] : null;
    case 'day-cost':
    case 'batch-cost': {
      if (account === 'inventory-concentrate' || account === 'work-in-progress') return null;
      const kind = kinds.get(plainMemo(line)) ?? 'other';
      return [`${what === 'day-cost' ? 'dayCost' : 'batchCost'}/${kind}`, -1];
    }
    case 'lot-purchase':
      return account === 'inventory-concentrate' ? ['concentrateBought', 1] : null;
    case 'expense':
      if (account.startsWith('expense-')) return [account.replace('-', '/'), 1];
      return PAID[account] === undefined ? null : [PAID[account], 1];
    default:
      return null;
  }
}
