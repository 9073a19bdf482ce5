import { Dec, sumOf, type DecimalNumber } from '../../api/calc/money.ts';
import { accountKinds, type AccountKindName } from '../../api/calc/books/account-kinds.ts';
import type { StatementBooking } from '../../api/calc/books/statement-entries.ts';
import type { AccountantInput } from './accountant-input.ts';
import { accountantTable, type AccountantTable } from './accountant-table.ts';

const CHARGES: readonly string[] = accountKinds
  .filter(({ group }) => group === 'Charges of buyers')
  .map(({ kind }) => kind);
/** Beside charges of buyers, what the mill earns and pays where it treats or buys. */
const OTHERS: readonly AccountKindName[] = ['charges-to-customers', 'metal-bought'];
const ROYALTIES: readonly AccountKindName[] = [
  'royalty',
  'production-tax',
  'royalties-payable',
  'production-tax-payable',
];
const TAXES: readonly AccountKindName[] = ['sales-tax-payable', 'recoverable-tax'];
const HELD: readonly AccountKindName[] = ['receivable-held-back', 'payable-suppliers'];

/** Statements of the period. */
export function ofPeriod({ books }: AccountantInput): StatementBooking[] {
  return books.bookings.filter(({ statement }) => statement.issuedOn >= books.from);
}

/** As it counts for the mill, in the statement's currency. */
function brought({ change }: StatementBooking, accounts: readonly string[]): string {
  return sumOf(accounts.map((account) => change.get(account as AccountKindName) ?? '0'))
    .negated()
    .toFixed(2);
}

/** What was booked on an account by a statement, in the mill's currency, debit above zero. */
export function bookedOn({ entries }: StatementBooking, account: string): DecimalNumber {
  return sumOf(
    entries.flatMap(({ lines }) =>
      lines.flatMap((line) => (line.account === account ? [line.debit, `-${line.credit}`] : [])),
    ),
  );
}

export function rateText({ entries }: StatementBooking): string {
  return entries[0]?.lines.find(({ foreign }) => foreign !== null)?.foreign?.rate ?? '1';
}

/** One row a statement: first values, adjustments apart, and what they come to. */
export function salesTable(input: AccountantInput): AccountantTable {
  const of =
    (...accounts: AccountKindName[]) =>
    (booking: StatementBooking): string =>
      brought(booking, accounts);
  return accountantTable<StatementBooking>(
    {
      name: 'Sales',
      file: 'sales',
      about:
        'One row for each statement issued in the period, in its own currency. The first statement on a product has the value of the metal; a later one only what it changes, with mass, assay and price apart. Amounts that lessen what the mill gets are negative: the figures of a row add up to the total that is printed on the statement.',
    },
    [
      ['statement', 'text', 'Number of the statement, as on its PDF', ({ statement }) => statement.number],
      ['stage', 'text', 'Provisional, final or adjustment', ({ statement }) => statement.stage],
      ['issued_on', 'date', 'Day of the statement', ({ statement }) => statement.issuedOn],
      ['follows', 'text', 'The statement that this one changes', ({ follows }) => follows],
      ['counterparty', 'text', 'Buyer, or customer', ({ statement }) => statement.buyerName],
      ['product', 'text', 'Bar or parcel', ({ statement }) => statement.productCode],
      ['currency', 'text', 'Currency of the amounts, ISO 4217', ({ statement }) => statement.currency],
      ['gold', 'money', 'Value of the payable gold', of('sales-gold')],
      ['silver', 'money', 'Value of the payable silver', of('sales-silver')],
      ['other_metals', 'money', 'Value of other payable metals', of('sales-other')],
      ['credits', 'money', 'Credits of the buyer', of('credit')],
      ['mass_adjustment', 'money', 'Change of the metal’s value by weights', of('adjustment-mass')],
      ['assay_adjustment', 'money', 'Change of the metal’s value by assays', of('adjustment-assay')],
      ['price_adjustment', 'money', 'Change of the metal’s value by prices', of('adjustment-price')],
      ['other_adjustment', 'money', 'Change of the metal’s value otherwise', of('adjustment-other')],
      [
        'deductions',
        'money',
        'Charges, penalties and interest, see Deductions',
        (row) => brought(row, CHARGES),
      ],
      [
        'tolling',
        'money',
        'Where the mill treats or buys: its charges, less what it pays for metal',
        (row) => brought(row, OTHERS),
      ],
      [
        'royalties_withheld',
        'money',
        'Royalties and production taxes that the buyer withholds',
        of(...ROYALTIES),
      ],
      ['taxes', 'money', 'Sales tax added, withholding tax taken off', of(...TAXES)],
      ['held_back', 'money', 'Held back until later; above zero where it comes free', of(...HELD)],
      ['total', 'money', 'Total of the statement: what is due by it', ({ due }) => due],
      ['rate', 'figure', `${input.currency} for one of the currency`, rateText],
      ['total_booked', 'money', `Total in ${input.currency}, as booked`, ({ dueBooked }) => dueBooked],
    ],
    ofPeriod(input),
  );
}

interface Deduction {
  booking: StatementBooking;
  account: string;
  name: string;
  code: string;
}

/** One row for each kind of charge on each statement. */
export function deductionsTable(input: AccountantInput): AccountantTable {
  const rows = ofPeriod(input).flatMap((booking): Deduction[] =>
    input.accounts
      .filter(
        ({ group, kind }) => group === 'Charges of buyers' && booking.change.has(kind as AccountKindName),
      )
      .map(({ kind, name, code }) => ({ booking, account: kind, name, code })),
  );
  return accountantTable<Deduction>(
    {
      name: 'Deductions',
      file: 'deductions',
      about:
        'What buyers take off, by kind: charges, penalties and interest of the statements of the period; of later statements only what they change.',
    },
    [
      ['statement', 'text', 'Number of the statement', ({ booking }) => booking.statement.number],
      ['issued_on', 'date', 'Day of the statement', ({ booking }) => booking.statement.issuedOn],
      ['counterparty', 'text', 'Buyer', ({ booking }) => booking.statement.buyerName],
      ['kind', 'text', 'Kind of deduction', ({ name }) => name],
      ['account', 'text', 'Account code', ({ code }) => code],
      ['currency', 'text', 'ISO 4217', ({ booking }) => booking.statement.currency],
      [
        'amount',
        'money',
        'Taken off; below zero where a later statement gives it back',
        ({ booking, account }) => new Dec(booking.change.get(account as AccountKindName) ?? 0).toFixed(2),
      ],
      [
        'amount_booked',
        'money',
        `In ${input.currency}, as booked`,
        ({ booking, account }) => bookedOn(booking, account).toFixed(2),
      ],
    ],
    rows,
  );
}

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

/** What is due in royalties and taxes: opening, accrued, paid, open. */
export function royaltiesTable(input: AccountantInput): AccountantTable {
  const { books, expenses } = input;
  const trial = new Map(books.trial.map((row) => [row.account, row]));
  const rows = LIABILITIES.flatMap(([account, cost, what]): Due[] => {
    const accrued = ofPeriod(input).flatMap((booking): Due[] => {
      const about = {
        what,
        on: booking.statement.issuedOn,
        document: booking.statement.number,
        party: booking.statement.buyerName,
      };
      const due = bookedOn(booking, account).negated();
      const withheld = cost === null ? new Dec(0) : bookedOn(booking, cost).minus(due);
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
    const paidBy = { 'royalties-payable': 'royalty-paid', 'production-tax-payable': 'tax-paid' }[
      account as string
    ];
    const paid = expenses
      .filter(({ kind }) => kind === paidBy)
      .map((one): Due => ({
        what,
        event: 'paid',
        on: one.spentOn,
        document: one.document,
        party: one.payee,
        amount: new Dec(bookedAmount(input, `expense:${one.id}`)).negated().toFixed(2),
      }));
    const open = trial.get(account);
    if (accrued.length + paid.length === 0 && open === undefined) return [];
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
      ...accrued,
      ...paid,
      balance('open at the end', books.to, open?.closing),
    ];
  });
  return accountantTable<Due>(
    {
      name: 'Royalties and taxes',
      file: 'royalties-and-taxes',
      about: `Royalties, production taxes, and taxes on statements in ${input.currency}: what was open, what came to be due by statements, what was paid, what is open. What is owed is above zero.`,
    },
    [
      ['kind', 'text', 'Royalty, production tax or tax on a statement', ({ what }) => what],
      ['event', 'text', 'Open, accrued, withheld or paid', ({ event }) => event],
      ['on', 'date', 'Day', ({ on }) => on],
      ['document', 'text', 'Statement or document', ({ document }) => document],
      ['party', 'text', 'Buyer or payee', ({ party }) => party],
      ['amount', 'money', `In ${input.currency}; owed above zero, paid below`, ({ amount }) => amount],
    ],
    rows,
  );
}

/** The debits of an entry in the mill's currency, which for something bought is what it cost; '0.00' where it is not of the period. */
export function bookedAmount({ books }: AccountantInput, key: string): string {
  const entry = books.entries.find((one) => one.key === key);
  return sumOf(
    entry?.lines.flatMap((line) =>
      line.account === 'payable-suppliers' ? [line.credit, `-${line.debit}`] : [],
    ) ?? [],
  ).toFixed(2);
}
