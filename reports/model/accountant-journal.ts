import type { JournalEntry, JournalLine } from '../../api/calc/books/journal.ts';
import type { TrialRow } from '../../api/calc/books/period-books.ts';
import { Dec } from '../../api/calc/money.ts';
import type { AccountantInput } from './accountant-input.ts';
import { codeOf } from './accountant-stocks.ts';
import { accountantTable, type AccountantTable } from './accountant-table.ts';

/** The opening entry first, then the period's. */
export function journalOf({ books }: AccountantInput): JournalEntry[] {
  return books.opening === null ? books.entries : [books.opening, ...books.entries];
}

export function journalTable(input: AccountantInput): AccountantTable {
  const code = codeOf(input);
  const names = new Map(input.accounts.map(({ kind, name }) => [kind, name]));
  const rows = journalOf(input).flatMap((entry, at) =>
    entry.lines.map((line): { entry: JournalEntry; at: number; line: JournalLine } => ({ entry, at, line })),
  );
  return accountantTable<(typeof rows)[number]>(
    {
      name: 'Journal',
      file: 'journal',
      about: `Double entry in ${input.currency}: in every entry and in all, debits are equal to credits. Where another currency was used, its amount and the rate stand beside.`,
    },
    [
      ['entry', 'whole', 'Number of the entry', ({ at }) => String(at + 1)],
      ['on', 'date', 'Day', ({ entry }) => entry.on],
      ['document', 'text', 'Statement, batch or document', ({ entry }) => entry.document],
      ['description', 'text', 'What happened', ({ entry }) => entry.description],
      ['account', 'text', 'Account code', ({ line }) => code(line.account)],
      ['account_name', 'text', 'Account', ({ line }) => names.get(line.account) ?? ''],
      ['debit', 'money', `In ${input.currency}`, ({ line }) => sided(line.debit)],
      ['credit', 'money', `In ${input.currency}`, ({ line }) => sided(line.credit)],
      ['memo', 'text', 'What the line is for', ({ line }) => line.memo],
      ['currency', 'text', 'Other currency, ISO 4217', ({ line }) => line.foreign?.currency ?? null],
      [
        'currency_amount',
        'money',
        'In the other currency, debit less credit',
        ({ line }) => line.foreign && new Dec(line.foreign.amount).toFixed(2),
      ],
      ['rate', 'figure', `${input.currency} for one of it`, ({ line }) => line.foreign?.rate ?? null],
      ['record', 'text', 'Names the record, the same in every download', ({ entry }) => entry.key],
      [
        'corrects',
        'text',
        'Of a correction: the closed month and the record in it',
        ({ entry }) =>
          entry.corrects === undefined ? null : `${entry.corrects.month} ${entry.corrects.key}`,
      ],
    ],
    rows,
  );
}

const sided = (amount: string): string | null => (amount === '0.00' ? null : amount);

/** Accounts in the order of the owner's table, those that were used. */
export function trialRows(input: AccountantInput): TrialRow[] {
  const rows = new Map(input.books.trial.map((row) => [row.account, row]));
  return input.accounts.flatMap(({ kind }) => rows.get(kind) ?? []);
}

export function trialTable(input: AccountantInput): AccountantTable {
  const about = new Map(input.accounts.map((account) => [account.kind, account]));
  return accountantTable<TrialRow>(
    {
      name: 'Trial balance',
      file: 'trial-balance',
      about: `What was booked on each account, in ${input.currency}; balances are debit less credit, and add up to nothing.`,
    },
    [
      ['account', 'text', 'Account code', ({ account }) => about.get(account)?.code ?? account],
      ['account_name', 'text', 'Account', ({ account }) => about.get(account)?.name ?? account],
      ['group', 'text', 'Group of the account', ({ account }) => about.get(account)?.group ?? ''],
      ['opening', 'money', 'Balance at the beginning', ({ opening }) => opening],
      ['debit', 'money', 'Debits of the period', ({ debit }) => debit],
      ['credit', 'money', 'Credits of the period', ({ credit }) => credit],
      ['closing', 'money', 'Balance at the end', ({ closing }) => closing],
    ],
    trialRows(input),
  );
}
