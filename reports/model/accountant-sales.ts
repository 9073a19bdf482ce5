import { Dec, sumOf, type DecimalNumber } from '../../api/calc/money.ts';
import { accountKinds, type AccountKindName } from '../../api/calc/books/account-kinds.ts';
import { bookedOn, type StatementBooking } from '../../api/calc/books/statement-entries.ts';
import type { JournalEntry } from '../../api/calc/books/journal.ts';
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

/** The journal of the period by the keys of its entries. */
export function entriesByKey({ books }: AccountantInput): ReadonlyMap<string, JournalEntry> {
  return new Map(books.entries.map((entry) => [entry.key, entry]));
}

/** What the journal of the period has of a statement on an account: in a closed month, as it was booked then. */
export function bookedBy(
  byKey: ReadonlyMap<string, JournalEntry>,
  booking: StatementBooking,
  account: string,
): DecimalNumber {
  return bookedOn({ entries: booking.entries.flatMap(({ key }) => byKey.get(key) ?? []) }, account);
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
  const byKey = entriesByKey(input);
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
        ({ booking, account }) => bookedBy(byKey, booking, account).toFixed(2),
      ],
    ],
    rows,
  );
}
