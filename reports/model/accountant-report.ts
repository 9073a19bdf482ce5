import { checksTable } from './accountant-checks.ts';
import type { AccountantInput } from './accountant-input.ts';
import { journalTable, trialTable } from './accountant-journal.ts';
import { deductionsTable, royaltiesTable, salesTable } from './accountant-sales.ts';
import { inventoriesTable, purchasesTable, receivablesTable } from './accountant-stocks.ts';
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
  const { books, currency, closedMonths } = input;
  const closed = closedMonths.filter(
    (month) => month.slice(0, 7) >= books.from.slice(0, 7) && month.slice(0, 7) <= books.to.slice(0, 7),
  );
  return [
    `Books of ${input.millName} from ${books.from} to ${books.to}, both days in it, made on ${input.madeOn}. Amounts are in ${currency} unless a column says otherwise.`,
    'Days are written by ISO 8601, currencies by ISO 4217. The workbook and the CSV files (RFC 4180, UTF-8) hold the same tables; there are no formulas in them. In a CSV file an apostrophe stands before words that a spreadsheet would take for a formula.',
    'Every entry carries the day of its record. ' +
      (closed.length === 0
        ? 'No month of this period is closed.'
        : `Closed months in this period: ${closed.map((month) => month.slice(0, 7)).join(', ')}.`) +
      ' A record of a closed month that was changed afterwards is booked as it stands now, on its own day; the month report shows it as a correction in the month in which it was changed. Compare with the download you booked from before.',
    books.opening === null
      ? 'Nothing was booked before this period, so there are no opening balances.'
      : 'The first entry is the opening balances: everything booked before, with earlier sales and costs together as opening balances.',
    'Supplies: perpetual moving weighted average. Supplies that no stock is kept of are costed at their list price and owed for until they are bought.',
    'Concentrate: the supplies and hours of a day go to its concentrate, and from there by dry mass into lots, batches and bars; a bought lot has its purchase price. What test smelts use up is borne by the rest. A batch’s cost goes to its bars, beads and parcels by the value of their metal at the last quotation, or by dry mass where one is not assayed; by-products bear none. It becomes cost of sales with the first statement.',
    'Inventories stand at the lower of cost and net realizable value, item by item (IAS 2). The value is an estimate: metal by the test smelts or assays, paid by the terms of the lot’s last batch at the last quotation, less charges and, for what is not smelted yet, what batches have cost per kilogram on average so far. What is due as a write-down is booked on the last day, after that of the period before is taken back.',
    'Sales are booked with the first statement, on its day; what a later statement changes is booked on its own day, split into mass, assay and price in that order.',
    'Open amounts in another currency stay at the rate of their day; they are not valued anew at the end of the period. The rate is the last one entered on or before the day.',
    'Wages are booked as due from the hours of days and batches; what was paid of them is not recorded here. Payments before their document count on the day of the document.',
    'Not a substitute for a licensed accountant or tax adviser: local law says what is due, how stocks are valued and what must be kept.',
    ...input.remarks,
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

/** The accountant's tables of a period: the same for the workbook and for the files beside it. */
export function accountantReport(input: AccountantInput): AccountantReport {
  const tables = [
    salesTable(input),
    deductionsTable(input),
    royaltiesTable(input),
    purchasesTable(input),
    inventoriesTable(input),
    receivablesTable(input),
    journalTable(input),
    trialTable(input),
    accountsTable(input),
  ];
  return {
    title: `${input.millName}: books from ${input.books.from} to ${input.books.to}`,
    demoNotice: input.isDemo ? DEMO_NOTICE : null,
    about: aboutOf(input),
    tables: [...tables.slice(0, -1), checksTable(input, tables), ...tables.slice(-1)],
  };
}
