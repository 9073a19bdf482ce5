import { Dec, sumOf, type DecimalNumber } from '../money.ts';
import type { AccountKindName } from './account-kinds.ts';
import type { BookProduct, BookRecords } from './book-records.ts';
import { placeAccount, type CostMove, type Place } from './cost-flow.ts';
import { supplyAccounts } from './cost-entries.ts';
import { journalEntry, type JournalEntry } from './journal.ts';
import { lowerOf, type Realizable } from './net-realizable-value.ts';
import { ROUNDING_ACCOUNT } from './statement-entries.ts';

/** One line of the inventories. Decimal texts. */
export interface InventoryItem {
  account: AccountKindName;
  code: string;
  description: string;
  quantity: string;
  unit: string;
  /** In the mill's currency, to the cent. */
  cost: string;
  /** Null where it is not asked for or cannot be told; the remark says why. */
  netRealizableValue: string | null;
  /** The lower of the two. */
  carrying: string;
  remark: string;
}

export interface InventoryFacts {
  records: Pick<
    BookRecords,
    'days' | 'lots' | 'lotParts' | 'testSmelts' | 'batches' | 'writeOffs' | 'stockEntries' | 'supplies'
  >;
  statements: readonly { productId: string; issuedOn: string }[];
  products: readonly BookProduct[];
  moves: readonly CostMove[];
  /** What a lot's rest, a batch in work or a product will fetch. */
  realizable: (place: Place, massKg: string) => Realizable;
}

const FOR_USE = 'held for use in production (IAS 2 §32)';

/**
 * Everything in stock at the end of a day: what it cost, what it will fetch, and the lower of the two, item by item.
 *
 * Days are one line, and by-products that bear no cost one line a kind. Supplies are held for use and stand at their
 * moving average. Source: IAS 2 Inventories §9, §28–29, §32.
 */
export function inventoriesOn(
  { records, statements, products, moves, realizable }: InventoryFacts,
  on: string,
): InventoryItem[] {
  const cost = new Map<string, DecimalNumber>();
  const keyOf = ({ kind, id }: Place): string => `${kind} ${id}`;
  const add = (place: Place | null, amount: DecimalNumber): void => {
    if (place !== null) cost.set(keyOf(place), (cost.get(keyOf(place)) ?? new Dec(0)).plus(amount));
  };
  for (const move of moves) {
    if (move.on > on) continue;
    add(move.from, new Dec(move.amount).negated());
    add(move.to, new Dec(move.amount));
  }
  const costAt = (place: Place): DecimalNumber => cost.get(keyOf(place)) ?? new Dec(0);
  const left = massLeft(records, statements, products, on);
  const kinds = new Map(products.map(({ id, kind }) => [id, kind]));

  const material = (place: Place, code: string, description: string): InventoryItem[] => {
    const value = costAt(place);
    const massKg = left.get(keyOf(place)) ?? new Dec(0);
    if (value.isZero() && !massKg.greaterThan(0)) return [];
    const worth = massKg.greaterThan(0)
      ? realizable(place, massKg.toFixed())
      : { value: null, remark: 'nothing of it is left' };
    return [
      {
        account: placeAccount(place, kinds),
        code,
        description,
        quantity: massKg.toDecimalPlaces(6).toFixed(),
        unit: 'kg dry',
        cost: value.toFixed(2),
        netRealizableValue: worth.value,
        carrying: lowerOf(value.toFixed(2), worth.value),
        remark: worth.remark,
      },
    ];
  };

  const bearing = new Set(
    products.filter(({ id }) => !costAt({ kind: 'product', id }).isZero()).map(({ id }) => id),
  );
  const isMain = ({ kind }: BookProduct): boolean => kind === 'bar' || kind === 'bead' || kind === 'parcel';
  return [
    ...daysTogether(records, on, costAt, left),
    ...records.lots.flatMap(({ id, code, ownerName }) =>
      material({ kind: 'lot', id }, code, `Lot ${code}${ownerName === null ? '' : ` of ${ownerName}`}`),
    ),
    ...records.batches.flatMap(({ id, code, lotCode }) =>
      material({ kind: 'batch', id }, code, `Batch ${code} of lot ${lotCode}, in work`),
    ),
    ...products
      .filter((product) => product.madeOn <= on && (isMain(product) || bearing.has(product.id)))
      .flatMap(({ id, code, kind }) => material({ kind: 'product', id }, code, `${kind} ${code}`)),
    ...byProductsTogether(
      products.filter((product) => product.madeOn <= on && !isMain(product) && !bearing.has(product.id)),
      left,
    ),
    ...suppliesOn(records, on),
  ];
}

/** kg dry that is left in each place at the end of a day. */
function massLeft(
  records: InventoryFacts['records'],
  statements: InventoryFacts['statements'],
  products: readonly BookProduct[],
  on: string,
): Map<string, DecimalNumber> {
  const left = new Map<string, DecimalNumber>();
  const take = (place: string, massKg: DecimalNumber | string): void => {
    const before = left.get(place);
    if (before !== undefined) left.set(place, before.minus(massKg));
  };
  for (const { id, day, concentrateDryKg } of records.days)
    if (day <= on) left.set(`day ${id}`, new Dec(concentrateDryKg ?? 0));
  for (const { id, madeOn, dryMassKg } of records.lots)
    if (madeOn <= on) left.set(`lot ${id}`, new Dec(dryMassKg));
  for (const { id, madeOn, dryMassKg } of products)
    if (madeOn <= on) left.set(`product ${id}`, new Dec(dryMassKg));
  for (const part of records.lotParts)
    if (part.takenOn <= on) take(`${part.source} ${part.sourceId}`, part.dryMassKg);
  for (const smelt of records.testSmelts)
    if (smelt.smeltedOn <= on) take(`lot ${smelt.lotId}`, new Dec(smelt.sampleMassG).div(1000));
  const lastMade = new Map<string, string>();
  for (const { batchId, madeOn, kind } of products)
    if ((kind === 'bar' || kind === 'bead' || kind === 'parcel') && madeOn > (lastMade.get(batchId) ?? ''))
      lastMade.set(batchId, madeOn);
  for (const { id, lotId, inWorkOn, finishedOn, dryMassKg } of records.batches) {
    if (inWorkOn === null || inWorkOn > on) continue;
    take(`lot ${lotId}`, dryMassKg);
    const made = lastMade.get(id);
    const ended = made !== undefined && (finishedOn ?? '') < made ? made : finishedOn;
    if (ended === null || ended > on) left.set(`batch ${id}`, new Dec(dryMassKg));
  }
  const byId = new Map(products.map((product) => [product.id, product]));
  for (const off of records.writeOffs) {
    if (off.writtenOffOn > on) continue;
    const product = off.of === 'product' ? byId.get(off.sourceId) : undefined;
    const share =
      product === undefined || new Dec(product.massKg).isZero()
        ? new Dec(1)
        : new Dec(product.dryMassKg).div(product.massKg);
    take(`${off.of} ${off.sourceId}`, share.times(off.massKg));
  }
  for (const { productId, issuedOn } of statements)
    if (issuedOn <= on && left.has(`product ${productId}`)) left.set(`product ${productId}`, new Dec(0));
  return left;
}

function daysTogether(
  { days }: InventoryFacts['records'],
  on: string,
  costAt: (place: Place) => DecimalNumber,
  left: ReadonlyMap<string, DecimalNumber>,
): InventoryItem[] {
  const there = days.filter(
    ({ id, day }) =>
      day <= on && (!costAt({ kind: 'day', id }).isZero() || left.get(`day ${id}`)?.greaterThan(0) === true),
  );
  if (there.length === 0) return [];
  const value = sumOf(there.map(({ id }) => costAt({ kind: 'day', id }))).toFixed(2);
  return [
    {
      account: 'inventory-concentrate',
      code: 'days',
      description: `Concentrate of ${there.length} day${there.length === 1 ? '' : 's'}, not in a lot yet`,
      quantity: sumOf(there.map(({ id }) => left.get(`day ${id}`) ?? new Dec(0)))
        .toDecimalPlaces(6)
        .toFixed(),
      unit: 'kg dry',
      cost: value,
      netRealizableValue: null,
      carrying: value,
      remark: 'not assayed before it is in a lot',
    },
  ];
}

function byProductsTogether(
  products: readonly BookProduct[],
  left: ReadonlyMap<string, DecimalNumber>,
): InventoryItem[] {
  return (['button', 'matte', 'slag', 'lead'] as const).flatMap((kind) => {
    const there = products.filter(
      (product) => product.kind === kind && left.get(`product ${product.id}`)?.greaterThan(0) === true,
    );
    if (there.length === 0) return [];
    return [
      {
        account: 'inventory-by-products' as const,
        code: kind,
        description: `${there.length} × ${kind}`,
        quantity: sumOf(there.map(({ id }) => left.get(`product ${id}`) ?? new Dec(0)))
          .toDecimalPlaces(6)
          .toFixed(),
        unit: 'kg dry',
        cost: '0.00',
        netRealizableValue: null,
        carrying: '0.00',
        remark: 'by-products bear no cost until they are worked up or sold',
      },
    ];
  });
}

function suppliesOn({ stockEntries, supplies }: InventoryFacts['records'], on: string): InventoryItem[] {
  const account = supplyAccounts(supplies);
  const last = new Map<string, { quantity: string; value: string }>();
  for (const entry of stockEntries) if (entry.on <= on) last.set(entry.supplyId, entry.after);
  return supplies.flatMap(({ id, name, unit }) => {
    const state = last.get(id);
    if (state === undefined || (new Dec(state.quantity).isZero() && new Dec(state.value).isZero())) return [];
    return [
      {
        account: account(id),
        code: name,
        description: name,
        quantity: state.quantity,
        unit,
        cost: state.value,
        netRealizableValue: null,
        carrying: state.value,
        remark: FOR_USE,
      },
    ];
  });
}

/** What the inventories are written down by (IAS 2 §28, §34); null where it is nothing. */
export function writeDownEntry({
  items,
  on,
  key,
}: {
  items: readonly InventoryItem[];
  on: string;
  key: string;
}): JournalEntry | null {
  return journalEntry({
    key,
    on,
    document: 'inventories',
    description: 'Inventories written down to what they will fetch',
    rate: null,
    roundingAccount: ROUNDING_ACCOUNT,
    postings: items.flatMap(({ account, cost, carrying }) => {
      const down = new Dec(cost).minus(carrying);
      return [
        { account: 'write-down', amount: down.toFixed(2) },
        { account, amount: down.negated().toFixed(2) },
      ];
    }),
  });
}
