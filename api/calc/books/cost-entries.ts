import { Dec } from '../money.ts';
import type { AccountKindName } from './account-kinds.ts';
import type { CostLine } from './batch-cost.ts';
import type { BookExpense, BookProduct, BookRecords, BookSupply } from './book-records.ts';
import { placeAccount, type CostMove } from './cost-flow.ts';
import { journalEntry, type JournalEntry, type Posting } from './journal.ts';
import type { RateBook } from './rate-book.ts';
import { ROUNDING_ACCOUNT, withForeign } from './statement-entries.ts';

type SupplyAccounts = (supplyId: string) => AccountKindName;

/** The account of a supply's stock, by its kind; hours that are bought ahead count among the other supplies. */
export function supplyAccounts(supplies: readonly Pick<BookSupply, 'id' | 'kind'>[]): SupplyAccounts {
  const kinds = new Map(supplies.map(({ id, kind }) => [id, kind]));
  return (supplyId) => {
    const kind = kinds.get(supplyId) ?? 'other';
    return `supplies-${kind === 'labour' ? 'other' : kind}`;
  };
}

const plain = (
  about: Pick<JournalEntry, 'key' | 'on' | 'document' | 'description'>,
  postings: Posting[],
): JournalEntry | null => journalEntry({ ...about, postings, rate: null, roundingAccount: ROUNDING_ACCOUNT });

/** What days and batches used and worked, put on the material; supplies that no stock is kept of are owed for. */
export function costEntries(records: BookRecords): JournalEntry[] {
  const stockOf = supplyAccounts(records.supplies);
  const isLabour = new Set(records.supplies.filter(({ kind }) => kind === 'labour').map(({ id }) => id));
  const booked = (lines: readonly CostLine[], on: AccountKindName): Posting[] =>
    lines.flatMap(({ supplyId, label, pricedBy, amount }): Posting[] => {
      const account: AccountKindName = isLabour.has(supplyId)
        ? 'wages-payable'
        : pricedBy === 'average'
          ? stockOf(supplyId)
          : 'uninvoiced-supplies';
      return [
        { account: on, amount },
        { account, amount: new Dec(amount).negated().toFixed(), memo: label },
      ];
    });
  const days = records.days.map((day) =>
    plain(
      {
        key: `day-cost:${day.id}`,
        on: day.day,
        document: day.day,
        description: `Supplies and hours of ${day.day}`,
      },
      booked(day.cost.lines, 'inventory-concentrate'),
    ),
  );
  const batches = records.batches
    .filter(({ costOn }) => costOn <= records.to)
    .map((batch) =>
      plain(
        {
          key: `batch-cost:${batch.id}`,
          on: batch.costOn,
          document: batch.code,
          description: `Supplies and hours of batch ${batch.code}`,
        },
        booked(batch.cost.lines, 'work-in-progress'),
      ),
    );
  return [...days, ...batches].filter((entry) => entry !== null);
}

/** What the cost flow moves between accounts; a move within one account is none. */
export function moveEntries(
  moves: readonly CostMove[],
  productKinds: ReadonlyMap<string, BookProduct['kind']>,
): JournalEntry[] {
  return moves.flatMap(({ from, to, leaves, amount, ...about }) => {
    const credited = from === null ? null : placeAccount(from, productKinds);
    const debited = to === null ? leaves : placeAccount(to, productKinds);
    if (credited === null || debited === null || credited === debited) return [];
    const entry = plain(about, [
      { account: debited, amount },
      { account: credited, amount: new Dec(amount).negated().toFixed() },
    ]);
    return entry === null ? [] : [entry];
  });
}

/** Something bought or owed, and its payment: what was paid before it came counts with it. */
function boughtEntries(
  about: { key: string; on: string; document: string; description: string },
  bought: { amount: string; currency: string; paidOn: string | null; debit: AccountKindName },
  rates: RateBook,
): (JournalEntry | null)[] {
  const { amount, currency, paidOn, debit } = bought;
  const owed = new Dec(amount).negated().toFixed();
  const entry = journalEntry({
    ...about,
    postings: [
      { account: debit, amount },
      { account: 'payable-suppliers', amount: owed },
    ],
    rate: rates.rateOn(currency, about.on),
    roundingAccount: ROUNDING_ACCOUNT,
  });
  if (paidOn === null) return [entry];
  const on = paidOn < about.on ? about.on : paidOn;
  const booked = new Dec(rates.told(amount, currency, about.on));
  const cash = new Dec(rates.told(amount, currency, on));
  const paid = plain({ ...about, key: `${about.key}:paid`, on, description: `Paid: ${about.description}` }, [
    { account: 'payable-suppliers', amount: booked.toFixed() },
    { account: 'cash', amount: cash.negated().toFixed() },
    { account: 'exchange-difference', amount: cash.minus(booked).toFixed() },
  ]);
  const foreign = rates.rateOn(currency, on);
  return [
    entry,
    paid === null || foreign === null ? paid : withForeign(paid, 'cash', { ...foreign, amount: owed }),
  ];
}

const EXPENSES: Partial<Record<BookExpense['kind'], AccountKindName>> = {
  'royalty-paid': 'royalties-payable',
  'tax-paid': 'production-tax-payable',
  'wages-paid': 'wages-payable',
};

/** The account that an expense is booked on. */
export function expenseAccount(kind: BookExpense['kind']): AccountKindName {
  return EXPENSES[kind] ?? (`expense-${kind}` as AccountKindName);
}

/** Supplies and lots bought, expenses, and what was paid of them. */
export function purchaseEntries(records: BookRecords, rates: RateBook): JournalEntry[] {
  const stockOf = supplyAccounts(records.supplies);
  const names = new Map(records.supplies.map(({ id, name }) => [id, name]));
  const by = (name: string): string => (name === '' ? '' : `, ${name}`);
  const entries = [
    ...records.supplyPurchases.flatMap((one) =>
      boughtEntries(
        {
          key: `purchase:${one.id}`,
          on: one.boughtOn,
          document: one.document,
          description: `${names.get(one.supplyId) ?? 'Supply'} bought${by(one.supplier)}`,
        },
        { ...one, debit: stockOf(one.supplyId) },
        rates,
      ),
    ),
    ...records.lotPurchases.flatMap((one) =>
      boughtEntries(
        {
          key: `lot-purchase:${one.lotId}`,
          on: one.boughtOn,
          document: one.document,
          description: `Lot ${one.lotCode} bought${by(one.supplier)}`,
        },
        { ...one, debit: 'inventory-concentrate' },
        rates,
      ),
    ),
    ...records.expenses.flatMap((one) =>
      boughtEntries(
        {
          key: `expense:${one.id}`,
          on: one.spentOn,
          document: one.document,
          description: `${expenseWords[one.kind]}${by(one.payee)}`,
        },
        { ...one, debit: expenseAccount(one.kind) },
        rates,
      ),
    ),
  ];
  return entries.filter((entry) => entry !== null).filter(({ on }) => on <= records.to);
}

export const expenseWords: Record<BookExpense['kind'], string> = {
  rent: 'Rent',
  repair: 'Repairs',
  permit: 'Permits',
  insurance: 'Insurance',
  power: 'Power and water',
  transport: 'Transport',
  assays: 'Assays',
  fees: 'Fees',
  wages: 'Wages not in batches or days',
  'wages-paid': 'Wages paid for hours in batches and days',
  'royalty-paid': 'Royalties paid',
  'tax-paid': 'Production taxes paid',
  other: 'Other',
};

/** What counts found, what was there when the books began, and what a purchase after a shortage put right. */
export function stockEntries(records: BookRecords): JournalEntry[] {
  const stockOf = supplyAccounts(records.supplies);
  const names = new Map(records.supplies.map(({ id, name }) => [id, name]));
  const begun = new Set<string>();
  const entries: (JournalEntry | null)[] = [];
  for (const { key, on, kind, supplyId, amount, shortfallAmount } of records.stockEntries) {
    const isFirst = !begun.has(supplyId);
    begun.add(supplyId);
    const name = names.get(supplyId) ?? 'Supply';
    const account = stockOf(supplyId);
    const change = (of: string, value: string, against: AccountKindName, description: string): void => {
      entries.push(
        plain({ key: of, on, document: 'stock', description }, [
          { account, amount: value },
          { account: against, amount: new Dec(value).negated().toFixed() },
        ]),
      );
    };
    if (kind === 'count' && isFirst)
      change(key, amount, 'opening-balance', `${name} there when the books began`);
    else if (kind === 'count') change(key, amount, 'stock-difference', `Count of ${name}: difference`);
    if (!new Dec(shortfallAmount).isZero())
      change(
        `shortfall:${key}`,
        shortfallAmount,
        'stock-difference',
        `${name}: cost of what was used before it was bought`,
      );
  }
  return entries.filter((entry) => entry !== null);
}
