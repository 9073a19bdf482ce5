import { accountKinds } from '../../api/calc/books/account-kinds.ts';
import { expenseAccount, expenseWords, supplyAccounts } from '../../api/calc/books/cost-entries.ts';
import type { InventoryItem } from '../../api/calc/books/inventories.ts';
import type { JournalEntry } from '../../api/calc/books/journal.ts';
import { Dec, sumOf } from '../../api/calc/money.ts';
import type { AccountantInput, AgedMonetaryItem } from './accountant-input.ts';
import { accountantTable, type AccountantTable } from './accountant-table.ts';

/** Code of an account, by its kind. */
export function codeOf(input: AccountantInput): (kind: string) => string {
  const codes = new Map(input.accounts.map(({ kind, code }) => [kind, code]));
  return (kind) => codes.get(kind) ?? accountKinds.find((one) => one.kind === kind)?.code ?? kind;
}

interface Purchase {
  key: string;
  on: string;
  what: string;
  description: string;
  quantity: string | null;
  unit: string;
  supplier: string;
  document: string;
  account: string;
  currency: string;
  amount: string;
  paidOn: string | null;
}

/** What an entry of something bought owes, in the mill's currency, and at which rate. */
function owedBy(entry: JournalEntry | undefined): { booked: string; rate: string } {
  const owed = entry?.lines.filter(({ account }) => account === 'payable-suppliers') ?? [];
  return {
    booked: sumOf(owed.flatMap(({ debit, credit }) => [credit, `-${debit}`])).toFixed(2),
    rate: owed.find(({ foreign }) => foreign !== null)?.foreign?.rate ?? '1',
  };
}

export function purchasesTable(input: AccountantInput): AccountantTable {
  const supply = new Map(input.supplies.map((one) => [one.id, one]));
  const stockOf = supplyAccounts(input.supplies);
  const byKey = new Map(input.books.entries.map((entry) => [entry.key, entry]));
  const code = codeOf(input);
  const rows: Purchase[] = [
    ...input.supplyPurchases.map((one) => ({
      ...one,
      key: `purchase:${one.id}`,
      on: one.boughtOn,
      what: 'supply',
      description: supply.get(one.supplyId)?.name ?? '',
      unit: supply.get(one.supplyId)?.unit ?? '',
      account: stockOf(one.supplyId),
    })),
    ...input.lotPurchases.map((one) => ({
      ...one,
      key: `lot-purchase:${one.lotId}`,
      on: one.boughtOn,
      what: 'concentrate',
      description: `Lot ${one.lotCode}`,
      quantity: null,
      unit: '',
      account: 'inventory-concentrate',
    })),
    ...input.expenses.map((one) => ({
      ...one,
      key: `expense:${one.id}`,
      on: one.spentOn,
      what: 'expense',
      description: expenseWords[one.kind],
      quantity: null,
      unit: '',
      supplier: one.payee,
      account: expenseAccount(one.kind),
    })),
  ];
  return accountantTable<Purchase>(
    {
      name: 'Purchases',
      file: 'purchases',
      about:
        'Supplies and concentrate bought, and expenses, of the period by the day of their document; without tax that is paid back.',
    },
    [
      ['on', 'date', 'Day of the purchase', ({ on }) => on],
      ['kind', 'text', 'Supply, concentrate or expense', ({ what }) => what],
      ['description', 'text', 'What was bought', ({ description }) => description],
      ['quantity', 'figure', 'How much of it', ({ quantity }) => quantity],
      ['unit', 'text', 'Unit of the quantity', ({ unit }) => unit],
      ['supplier', 'text', 'From whom', ({ supplier }) => supplier],
      ['document', 'text', 'Number of the document', ({ document }) => document],
      ['account', 'text', 'Account code', ({ account }) => code(account)],
      ['currency', 'text', 'ISO 4217', ({ currency }) => currency],
      ['amount', 'money', 'In the currency', ({ amount }) => new Dec(amount).toFixed(2)],
      [
        'rate',
        'figure',
        `${input.currency} for one of the currency`,
        ({ key }) => owedBy(byKey.get(key)).rate,
      ],
      [
        'amount_booked',
        'money',
        `In ${input.currency}, as booked`,
        ({ key }) => owedBy(byKey.get(key)).booked,
      ],
      ['paid_on', 'date', 'Day of payment; empty where it is open', ({ paidOn }) => paidOn],
    ],
    rows.toSorted((a, b) => (a.on < b.on ? -1 : a.on > b.on ? 1 : a.key < b.key ? -1 : 1)),
  );
}

export function inventoriesTable(input: AccountantInput): AccountantTable {
  const code = codeOf(input);
  const names = new Map(input.accounts.map(({ kind, name }) => [kind, name]));
  return accountantTable<InventoryItem>(
    {
      name: 'Inventories',
      file: 'inventories',
      about: `What was in stock at the end of ${input.books.to}, in ${input.currency}: cost, net realizable value where it can be told, and the lower of the two, which the balance sheet shows (IAS 2).`,
    },
    [
      ['account', 'text', 'Account code', ({ account }) => code(account)],
      ['account_name', 'text', 'Account', ({ account }) => names.get(account) ?? ''],
      ['item', 'text', 'Code of the lot, batch or product; name of the supply', ({ code: item }) => item],
      ['description', 'text', 'What it is', ({ description }) => description],
      ['quantity', 'figure', 'How much is there', ({ quantity }) => quantity],
      ['unit', 'text', 'Unit of the quantity', ({ unit }) => unit],
      ['cost', 'money', 'Cost', ({ cost }) => cost],
      [
        'net_realizable_value',
        'money',
        'An estimate: likely terms at the last quotation, less what has still to be spent',
        ({ netRealizableValue }) => netRealizableValue,
      ],
      ['lower', 'money', 'The lower of the two', ({ carrying }) => carrying],
      ['remark', 'text', 'By what it was estimated, or why not', ({ remark }) => remark],
    ],
    input.books.inventories,
  );
}

const RECEIVABLES: readonly string[] = ['receivable', 'receivable-held-back', 'payable-buyers'];

function openTable(
  input: AccountantInput,
  about: Pick<AccountantTable, 'name' | 'file' | 'about'>,
  rows: readonly AgedMonetaryItem[],
): AccountantTable {
  const code = codeOf(input);
  return accountantTable<AgedMonetaryItem>(
    about,
    [
      ['document', 'text', 'Number of the statement or document', ({ document }) => document],
      ['counterparty', 'text', 'Buyer or supplier', ({ counterparty }) => counterparty],
      ['since', 'date', 'Day of the statement or document', ({ since }) => since],
      ['due_on', 'date', 'Due day by the contract; empty where none is known', ({ dueOn }) => dueOn],
      ['account', 'text', 'Account code', ({ account }) => code(account)],
      ['currency', 'text', 'ISO 4217', ({ currency }) => currency],
      ['total', 'money', 'Total of the statement or document', ({ total }) => total],
      ['paid', 'money', 'Paid of it', ({ paid }) => paid],
      ['open', 'money', 'Open', ({ open }) => open],
      ['days_overdue', 'whole', 'Days since it was due', ({ daysOverdue }) => String(daysOverdue)],
      ['age', 'text', 'Class of age', ({ age }) => age],
      [
        'open_at_first_rate',
        'money',
        `Open in ${input.currency}, at the rate of its day`,
        ({ booked }) => booked,
      ],
      [
        'open_booked',
        'money',
        `Open in ${input.currency}, as booked: other currencies at the rate of the last day`,
        ({ carried }) => carried,
      ],
    ],
    rows,
  );
}

export function receivablesTable(input: AccountantInput): AccountantTable {
  return openTable(
    input,
    {
      name: 'Receivables',
      file: 'receivables',
      about: `Statements that were not paid in full at the end of ${input.books.to}, by the days that they were overdue, and what buyers hold back; below zero what the mill owes a buyer.`,
    },
    input.openItems.filter(({ account }) => RECEIVABLES.includes(account)),
  );
}

export function payablesTable(input: AccountantInput): AccountantTable {
  return openTable(
    input,
    {
      name: 'Payables',
      file: 'payables',
      about: `Purchases and expenses that were not paid at the end of ${input.books.to}, and statements by which the mill owes its customers; what is owed is below zero. Royalties, taxes and wages that are open stand on sheets of their own.`,
    },
    input.openItems.filter(({ account }) => account === 'payable-suppliers'),
  );
}
