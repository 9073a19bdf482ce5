import { monthOf } from '../../api/calc/calendar.ts';
import { Dec, sumOf, type DecimalNumber } from '../../api/calc/money.ts';
import type { AccountKindName } from '../../api/calc/books/account-kinds.ts';
import { monthName } from '../../api/calc/books/book-entry.ts';
import type { JournalEntry } from '../../api/calc/books/journal.ts';
import type { AccountantInput } from './accountant-input.ts';
import { bookedBy, entriesByKey, ofPeriod } from './accountant-sales.ts';
import { accountantTable, type AccountantTable } from './accountant-table.ts';

interface Due {
  what: string;
  event: string;
  on: string;
  document: string;
  party: string;
  /** Above zero: due; below: paid. */
  amount: string;
}

const LIABILITIES: [account: AccountKindName, cost: AccountKindName | null, what: string][] = [
  ['royalties-payable', 'royalty', 'royalty'],
  ['production-tax-payable', 'production-tax', 'production tax'],
  ['sales-tax-payable', null, 'sales or withholding tax'],
  ['recoverable-tax', null, 'tax to be paid back'],
];

/** What an entry adds to what is owed on an account. */
function owedBy({ lines }: JournalEntry, account: AccountKindName): DecimalNumber {
  return sumOf(lines.flatMap((line) => (line.account === account ? [line.credit, `-${line.debit}`] : [])));
}

/** Expenses that pay what is owed on an account, and corrections of closed months, from the journal itself. */
function paidAndCorrected(input: AccountantInput, account: AccountKindName, what: string): Due[] {
  const expenses = new Map(input.expenses.map((one) => [`expense:${one.id}`, one]));
  return input.books.entries.flatMap((entry): Due[] => {
    const amount = owedBy(entry, account);
    const isPaid = entry.key.startsWith('expense:');
    if (amount.isZero() || (!isPaid && entry.corrects === undefined)) return [];
    const expense = expenses.get(entry.key);
    return [
      {
        what,
        event: isPaid ? 'paid' : `correction of ${entry.corrects?.month}`,
        on: entry.on,
        document: entry.document,
        party: expense?.payee ?? '',
        amount: amount.toFixed(2),
      },
    ];
  });
}

/** What was open at the beginning, what moved it, and what is open at the end; nothing where the account was not used. */
function betweenBalances(
  { books }: AccountantInput,
  account: AccountKindName,
  what: string,
  moved: readonly Due[],
): Due[] {
  const open = books.trial.find((row) => row.account === account);
  if (moved.length === 0 && open === undefined) return [];
  const balance = (event: string, on: string, amount: string | undefined): Due => ({
    what,
    event,
    on,
    document: '',
    party: '',
    amount: new Dec(amount ?? 0).negated().toFixed(2),
  });
  return [
    balance('open at the beginning', books.from, open?.opening),
    ...moved,
    balance('open at the end', books.to, open?.closing),
  ];
}

const COLUMNS = (currency: string, kinds: string) =>
  [
    ['kind', 'text', kinds, ({ what }: Due) => what],
    ['event', 'text', 'Open, accrued, withheld, paid or corrected', ({ event }: Due) => event],
    ['on', 'date', 'Day', ({ on }: Due) => on],
    ['document', 'text', 'Statement or document', ({ document }: Due) => document],
    ['party', 'text', 'Buyer or payee', ({ party }: Due) => party],
    ['amount', 'money', `In ${currency}; owed above zero, paid below`, ({ amount }: Due) => amount],
  ] as const;

/** What is due in royalties and taxes: opening, accrued, paid, open. */
export function royaltiesTable(input: AccountantInput): AccountantTable {
  const byKey = entriesByKey(input);
  const rows = LIABILITIES.flatMap(([account, cost, what]): Due[] => {
    const accrued = ofPeriod(input).flatMap((booking): Due[] => {
      const about = {
        what,
        on: booking.statement.issuedOn,
        document: booking.statement.number,
        party: booking.statement.buyerName,
      };
      const due = bookedBy(byKey, booking, account).negated();
      const withheld = cost === null ? new Dec(0) : bookedBy(byKey, booking, cost).minus(due);
      return [
        ...(withheld.isZero()
          ? []
          : [
              { ...about, event: 'accrued and withheld by the buyer', amount: withheld.toFixed(2) },
              { ...about, event: 'paid by the buyer', amount: withheld.negated().toFixed(2) },
            ]),
        ...(due.isZero() ? [] : [{ ...about, event: 'accrued', amount: due.toFixed(2) }]),
      ];
    });
    const moved = [...accrued, ...paidAndCorrected(input, account, what)];
    return betweenBalances(input, account, what, moved);
  });
  return accountantTable<Due>(
    {
      name: 'Royalties and taxes',
      file: 'royalties-and-taxes',
      about: `Royalties, production taxes, and taxes on statements in ${input.currency}: what was open, what came to be due by statements, what was paid, what is open. What is owed is above zero.`,
    },
    COLUMNS(input.currency, 'Royalty, production tax or tax on a statement'),
    rows,
  );
}

/** What is due in wages: opening, hours of each month, paid, open. */
export function wagesTable(input: AccountantInput): AccountantTable {
  const account: AccountKindName = 'wages-payable';
  const accrued = new Map<string, DecimalNumber>();
  for (const entry of input.books.entries) {
    const [of = ''] = entry.key.split(':');
    const amount = owedBy(entry, account);
    if (amount.isZero() || (of !== 'day-cost' && of !== 'batch-cost')) continue;
    const place = `${monthName(entry.on)} ${of}`;
    accrued.set(place, (accrued.get(place) ?? new Dec(0)).plus(amount));
  }
  const ofMonths = [...accrued].map(([place, amount]): Due => {
    const [month = '', of = ''] = place.split(' ');
    const { to } = monthOf(`${month}-01`);
    return {
      what: 'wages',
      event: of === 'day-cost' ? 'accrued: hours of days at the mill' : 'accrued: hours of batches',
      on: to < input.books.to ? to : input.books.to,
      document: month,
      party: '',
      amount: amount.toFixed(2),
    };
  });
  const moved = [...ofMonths, ...paidAndCorrected(input, account, 'wages')].toSorted((a, b) =>
    a.on < b.on ? -1 : a.on > b.on ? 1 : 0,
  );
  return accountantTable<Due>(
    {
      name: 'Wages',
      file: 'wages',
      about: `Wages in ${input.currency}: what was open, what the hours of days and batches came to by month, what was paid of it, what is open. What is owed is above zero.`,
    },
    COLUMNS(input.currency, 'Wages'),
    betweenBalances(input, account, 'wages', moved),
  );
}
