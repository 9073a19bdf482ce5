import { Dec, sumOf } from '../../api/calc/money.ts';
import { journalTotals, trialBalance } from '../../api/calc/books/journal.ts';
import type { AccountantInput } from './accountant-input.ts';
import { journalOf } from './accountant-journal.ts';
import { monthChecks } from './accountant-month-checks.ts';
import { accountantTable, type AccountantTable } from './accountant-table.ts';

export interface Check {
  what: string;
  source: string;
  currency: string;
  figure: string;
  ours: string;
}

/** Sum of a column of a table, of the rows where another column says so. */
function columnSum(table: AccountantTable, key: string, where?: [key: string, value: string]): string {
  const at = table.columns.findIndex((column) => column.key === key);
  const whereAt = where === undefined ? -1 : table.columns.findIndex((column) => column.key === where[0]);
  return sumOf(
    table.rows.filter((row) => where === undefined || row[whereAt] === where[1]).map((row) => row[at] ?? '0'),
  ).toFixed(2);
}

/** Every total of the sheets against what it must be equal to: statements, records and the journal. */
export function checksTable(input: AccountantInput, tables: readonly AccountantTable[]): AccountantTable {
  const { books, accounts } = input;
  const table = (name: string): AccountantTable => {
    const found = tables.find((one) => one.name === name);
    if (found === undefined) throw new Error(`There is no table ${name}.`);
    return found;
  };
  const trial = new Map(books.trial.map((row) => [row.account, row]));
  // Corrections of closed months belong to statements of those months.
  const movements = trialBalance(books.entries.filter(({ corrects }) => corrects === undefined));
  const moved = (...kinds: string[]): string =>
    sumOf(kinds.map((kind) => movements.get(kind) ?? '0')).toFixed(2);
  const closing = (kind: string): string => trial.get(kind)?.closing ?? '0.00';
  /** What was changed in closed months and is booked after the period is in the lists of what is there already. */
  const withLater = (kind: string): string =>
    new Dec(closing(kind)).plus(books.bookedLater.get(kind) ?? 0).toFixed(2);
  const laterWords = (kind: string): string => {
    const later = books.bookedLater.get(kind);
    return later === undefined ? '' : `, with ${later} of corrections that are booked later`;
  };
  const own = (what: string, source: string, figure: string, ours: string): Check => ({
    what,
    source,
    currency: input.currency,
    figure,
    ours,
  });
  const totals = journalTotals(journalOf(input));
  const sales = table('Sales');
  const rowSum = sales.rows.map((row) =>
    sumOf(
      sales.columns.flatMap(({ key }, at) =>
        [
          'gold',
          'silver',
          'other_metals',
          'credits',
          'mass_adjustment',
          'assay_adjustment',
          'price_adjustment',
          'other_adjustment',
          'deductions',
          'tolling',
          'royalties_withheld',
          'taxes',
          'held_back',
        ].includes(key)
          ? [row[at] ?? '0']
          : [],
      ),
    ).toFixed(2),
  );
  const cell = (row: (string | null)[], key: string): string =>
    row[sales.columns.findIndex((column) => column.key === key)] ?? '';
  const printed = new Map(books.bookings.map(({ statement }) => [statement.number, statement.brings]));

  // An owner may call several kinds by one name.
  const charges = accounts.filter(({ group, kind }) => group === 'Charges of buyers' && trial.has(kind));

  const checks: Check[] = [
    own('Journal: debits and credits', 'Journal', totals.debit, totals.credit),
    own(
      'Trial balance adds up to nothing',
      'Trial balance',
      '0.00',
      columnSum(table('Trial balance'), 'closing'),
    ),
    ...sales.rows.map((row, at) => ({
      what: `Statement ${cell(row, 'statement')}: its columns and the total it prints`,
      source: 'Statement, Sales',
      currency: cell(row, 'currency'),
      figure: new Dec(printed.get(cell(row, 'statement')) ?? 0).toFixed(2),
      ours: rowSum[at] ?? '0.00',
    })),
    ...input.known.map(({ what, source, currency, amount, ours }) => ({
      what,
      source,
      currency,
      figure: new Dec(amount).toFixed(2),
      ours,
    })),
    ...[...new Set(charges.map(({ name }) => name))].map((name) =>
      own(
        `Deductions: ${name}`,
        'Deductions, Trial balance',
        columnSum(table('Deductions'), 'amount_booked', ['kind', name]),
        moved(...charges.filter((one) => one.name === name).map(({ kind }) => kind)),
      ),
    ),
    ...(
      [
        ['royalty', 'royalties-payable'],
        ['production tax', 'production-tax-payable'],
        ['sales or withholding tax', 'sales-tax-payable'],
        ['tax to be paid back', 'recoverable-tax'],
        ['wages', 'wages-payable'],
      ] as const
    )
      .filter(([, account]) => trial.has(account))
      .map(([what, account]) => {
        const sheet = what === 'wages' ? 'Wages' : 'Royalties and taxes';
        const all = new Dec(columnSum(table(sheet), 'amount', ['kind', what]));
        // Opening + movements + closing: without the closing they must come to it.
        return own(
          `Open: ${what}`,
          `${sheet}, Trial balance`,
          all.plus(closing(account)).toFixed(2),
          new Dec(closing(account)).negated().toFixed(2),
        );
      }),
    ...accounts
      .filter(
        ({ kind }) =>
          kind.startsWith('inventory-') || kind.startsWith('supplies-') || kind === 'work-in-progress',
      )
      .filter(({ kind }) => trial.has(kind) || books.bookedLater.has(kind))
      .map(({ kind, name }) =>
        own(
          `Inventories: ${name}${laterWords(kind)}`,
          'Inventories, Trial balance',
          sumOf(
            books.inventories.filter(({ account }) => account === kind).map(({ carrying }) => carrying),
          ).toFixed(2),
          withLater(kind),
        ),
      ),
    ...(['receivable', 'receivable-held-back', 'payable-buyers', 'payable-suppliers'] as const)
      .filter((kind) => trial.has(kind) || books.bookedLater.has(kind))
      .map((kind) =>
        own(
          `Open: ${accounts.find((account) => account.kind === kind)?.name ?? kind}${laterWords(kind)}`,
          `${kind === 'payable-suppliers' ? 'Payables' : 'Receivables'}, Trial balance`,
          sumOf(
            input.openItems.filter(({ account }) => account === kind).map(({ carried }) => carried),
          ).toFixed(2),
          withLater(kind),
        ),
      ),
    ...monthChecks(input),
  ];
  return accountantTable<Check>(
    {
      name: 'Checks',
      file: 'checks',
      about: 'Every total held against what it must be equal to. Every difference must be 0.00.',
    },
    [
      ['check', 'text', 'What is held against what', ({ what }) => what],
      ['where', 'text', 'Where both stand', ({ source }) => source],
      ['currency', 'text', 'ISO 4217', ({ currency }) => currency],
      ['figure', 'money', 'As it is known', ({ figure }) => figure],
      ['here', 'money', 'As it stands here', ({ ours }) => ours],
      ['difference', 'money', 'Must be 0.00', ({ figure, ours }) => new Dec(figure).minus(ours).toFixed(2)],
    ],
    checks,
  );
}
