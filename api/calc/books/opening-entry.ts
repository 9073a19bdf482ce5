import { Dec, sumOf } from '../money.ts';
import { accountKinds, type AccountKindName } from './account-kinds.ts';
import { journalEntry, trialBalance, type JournalEntry } from './journal.ts';
import { ROUNDING_ACCOUNT } from './statement-entries.ts';

const GROUPS = new Map<string, string>(accountKinds.map(({ kind, group }) => [kind, group]));

/** Whether an account goes on from period to period. */
export function isBalanceSheetAccount(account: string): boolean {
  const group = GROUPS.get(account);
  return group === 'Assets' || group === 'Liabilities' || group === 'Equity';
}

/**
 * All that was booked before a period as one entry on its first day: what is there and what is owed account by account,
 * and sales, charges and costs together as what the mill had earned, on the account of opening balances.
 */
export function openingEntry(earlier: readonly JournalEntry[], from: string): JournalEntry | null {
  const balances = [...trialBalance(earlier)];
  const kept = balances.filter(([account]) => isBalanceSheetAccount(account));
  const earned = sumOf(
    balances.filter(([account]) => !isBalanceSheetAccount(account)).map(([, amount]) => amount),
  );
  const postings = kept.map(([account, amount]) => ({ account, amount }));
  return journalEntry({
    key: 'opening',
    on: from,
    document: 'opening',
    description: 'Opening balances: all that was booked before',
    rate: null,
    roundingAccount: ROUNDING_ACCOUNT,
    postings: [
      ...postings,
      { account: 'opening-balance' satisfies AccountKindName, amount: new Dec(earned).toFixed() },
    ],
  });
}
