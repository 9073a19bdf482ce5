import { checksTable } from './accountant-checks.ts';
import type { AccountantInput } from './accountant-input.ts';
import { journalTable, trialTable } from './accountant-journal.ts';
import { royaltiesTable, wagesTable } from './accountant-liabilities.ts';
import { deductionsTable, salesTable } from './accountant-sales.ts';
import { inventoriesTable, payablesTable, purchasesTable, receivablesTable } from './accountant-stocks.ts';
import { accountantTable, type AccountantTable } from './accountant-table.ts';
import { DEMO_NOTICE } from './demo-notice.ts';

export interface AccountantReport {
  title: string;
  /** Null where the mill is a real one. */
  demoNotice: string | null;
  /** In plain sentences, what the package is and how it was made. */
  about: string[];
  tables: AccountantTable[];
}

function aboutOf(input: AccountantInput): string[] {
  const { books, currency } = input;
  return [
    `Books of ${input.millName} from ${books.from} to ${books.to}, both days in it, made on ${input.madeOn}. Amounts are in ${currency} unless a column says otherwise.`,
    'Days are written by ISO 8601, currencies by ISO 4217. The workbook and the CSV files (RFC 4180, UTF-8) hold the same tables; there are no formulas in them. In a CSV file an apostrophe stands before words that a spreadsheet would take for a formula.',
    ...closedWords(input),
    books.opening === null
      ? 'Nothing was booked before this period, so there are no opening balances.'
      : 'The first entry is the opening balances: everything booked before, with earlier sales and costs together as opening balances. Each period opens with what the one before closed with.',
    'Supplies: perpetual moving weighted average. Supplies that no stock is kept of are costed at their list price and owed for until they are bought.',
    'Concentrate: the supplies and hours of a day go to its concentrate, and from there by dry mass into lots, batches and bars; a bought lot has its purchase price. What test smelts use up is borne by the rest. A batch’s cost goes to its bars, beads and parcels by the value of their metal at the last quotation, or by dry mass where one is not assayed; by-products bear none. It becomes cost of sales with the first statement.',
    'Inventories stand at the lower of cost and net realizable value, item by item (IAS 2). The value is an estimate: what the month report says a lot holds, times the recovery of the treatment, paid by the terms of the lot’s last batch at the last quotation, less charges and, for what is not smelted yet, what batches have cost per kilogram on average so far. What is due as a write-down is booked on the last day, after that of the period before is taken back.',
    'Sales are booked with the first statement, on its day; what a later statement changes is booked on its own day, split into mass, assay and price in that order.',
    'What buyers owe and what is owed to suppliers in another currency stands at the rate of the last day, with the difference to the rate of its own day as an exchange difference (IAS 21); the first day of the next period takes it back, and a payment is held against the rate of its statement. Money received counts as changed on its day. Royalties and taxes stay at the rate of their statement. A rate is the last one entered on or before the day.',
    'Wages come to be due by the hours of days and batches at the wage of their day, and are paid by expenses called “Wages paid for hours in batches and days”; the sheet Wages shows what is open. Payments before their document count on the day of the document.',
    'Not a substitute for a licensed accountant or tax adviser: local law says what is due, how stocks are valued and what must be kept.',
    ...input.remarks,
  ];
}

/** What closed months mean for the journal. */
function closedWords({ books, closedMonths, journalsKept }: AccountantInput): string[] {
  const months = closedMonths.map(({ month }) => month);
  const kept = months.filter((month) => journalsKept.includes(month));
  const others = months.filter((month) => !journalsKept.includes(month) && month <= books.to.slice(0, 7));
  const inPeriod = kept.filter((month) => month >= books.from.slice(0, 7) && month <= books.to.slice(0, 7));
  return [
    'Every entry carries the day of its record. ' +
      (inPeriod.length === 0
        ? 'No month of this period is closed.'
        : `Closed months in this period: ${inPeriod.join(', ')}; their journal is what it was when they were closed.`) +
      ' A record of a closed month that was changed afterwards is booked as a correction in the month in which it was changed, as the month report shows it: the column corrects names the month and the record, and the memo what was booked and what it is now. Lists of what is there or open show it as it is now; the sheet Checks names what is booked later.',
    ...(others.length === 0
      ? []
      : [
          `Closed without a journal, by an earlier version or while an exchange rate was missing, and booked as their records stand now: ${others.join(', ')}.`,
        ]),
  ];
}

function accountsTable(input: AccountantInput): AccountantTable {
  return accountantTable<AccountantInput['accounts'][number]>(
    {
      name: 'Accounts',
      file: 'accounts',
      about: 'The accounts that the journal books on, with the codes kept under Settings.',
    },
    [
      ['account', 'text', 'Account code', ({ code }) => code],
      ['account_name', 'text', 'Account', ({ name }) => name],
      ['group', 'text', 'Group of the account', ({ group }) => group],
      ['kind', 'text', 'What the program calls it', ({ kind }) => kind],
    ],
    input.accounts,
  );
}

/** A table of an invented mill says so in every row, and in a row of its own where it has none. */
function noticed(table: AccountantTable): AccountantTable {
  const rows = table.rows.length === 0 ? [table.columns.map(() => null)] : table.rows;
  return {
    ...table,
    columns: [...table.columns, { key: 'notice', kind: 'text', meaning: 'That all of this is invented' }],
    rows: rows.map((row) => [...row, DEMO_NOTICE]),
  };
}

/** The accountant's tables of a period: the same for the workbook and for the files beside it. */
export function accountantReport(input: AccountantInput): AccountantReport {
  const tables = [
    salesTable(input),
    deductionsTable(input),
    royaltiesTable(input),
    wagesTable(input),
    purchasesTable(input),
    inventoriesTable(input),
    receivablesTable(input),
    payablesTable(input),
    journalTable(input),
    trialTable(input),
    accountsTable(input),
  ];
  const all = [...tables.slice(0, -1), checksTable(input, tables), ...tables.slice(-1)];
  return {
    title: `${input.millName}: books from ${input.books.from} to ${input.books.to}`,
    demoNotice: input.isDemo ? DEMO_NOTICE : null,
    about: aboutOf(input),
    tables: input.isDemo ? all.map(noticed) : all,
  };
}
