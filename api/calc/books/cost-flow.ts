import { allocate, Dec, type DecimalNumber } from '../money.ts';
import type { BookProduct, BookRecords } from './book-records.ts';
import type { AccountKindName } from './account-kinds.ts';
import { shareWeights, takesCost } from './share-of-batch.ts';
import { walkCost, type CostIn, type CostOut, type WalkedCost } from './walk-cost.ts';

/** A place where material lies and bears cost. */
export interface Place {
  kind: 'day' | 'lot' | 'batch' | 'product';
  id: string;
}

/** Cost that goes with material from one place to another, or comes in or leaves. */
export interface CostMove {
  key: string;
  on: string;
  from: Place | null;
  to: Place | null;
  /** Why it leaves the stock: written off, sold, or left over with nothing to bear it. */
  leaves: 'write-off' | 'cost-of-sales' | null;
  /** To the cent, above zero but for costs that came back. */
  amount: string;
  document: string;
  description: string;
}

/** What the flow is worked from, from the first day of the books. */
export interface CostFlowFacts {
  records: Pick<
    BookRecords,
    'days' | 'lots' | 'lotParts' | 'lotPurchases' | 'testSmelts' | 'batches' | 'writeOffs' | 'to'
  >;
  /** Issued ones; the first of a product sells it. */
  statements: readonly { productId: string; issuedOn: string; number: string }[];
  /** Of all days, so that what a batch gives later has its share. */
  products: readonly BookProduct[];
  /** What a bought lot cost, in the mill's currency. */
  lotCost: (lotId: string) => string;
  /** Value of a gram on a day by the last quotation; null where there is none. */
  pricePerG: (metal: 'Au' | 'Ag', on: string) => DecimalNumber | null;
}

/** The account that a place's stock is booked on. */
export function placeAccount(
  place: Place,
  productKinds: ReadonlyMap<string, BookProduct['kind']>,
): AccountKindName {
  if (place.kind === 'batch') return 'work-in-progress';
  if (place.kind !== 'product') return 'inventory-concentrate';
  const kind = productKinds.get(place.id);
  if (kind === 'bar' || kind === 'bead') return 'inventory-bars';
  return kind === 'parcel' ? 'inventory-parcels' : 'inventory-by-products';
}

const group = <Row>(rows: readonly Row[], keyOf: (row: Row) => string): Map<string, Row[]> => {
  const groups = new Map<string, Row[]>();
  for (const row of rows) {
    const own = groups.get(keyOf(row));
    if (own === undefined) groups.set(keyOf(row), [row]);
    else own.push(row);
  }
  return groups;
};

/**
 * Follows cost with the material: days and purchases → lots → batches → products → sale, write-off or another lot.
 *
 * From days, lots and products cost goes by dry mass. A batch keeps its cost until it is finished and the last of its
 * bars, beads and parcels is made, then all of it goes to them (see `shareWeights`). A product's cost becomes cost of
 * sales on the day of its first issued statement. Places are worked each by itself, what they were made from first;
 * the books refuse material that is made from itself. Source: IAS 2 Inventories §10–14, §34.
 */
export function costFlow(facts: CostFlowFacts): CostMove[] {
  const { records, statements, products, lotCost, pricePerG } = facts;
  const moves: CostMove[] = [];
  const days = new Map(records.days.map((day) => [day.id, day]));
  const lots = new Map(records.lots.map((lot) => [lot.id, lot]));
  const batches = new Map(records.batches.map((batch) => [batch.id, batch]));
  const ofBatch = group(products, ({ batchId }) => batchId);
  const productById = new Map(products.map((product) => [product.id, product]));
  const partsOfLot = group(records.lotParts, ({ lotId }) => lotId);
  const partsFrom = group(records.lotParts, ({ source, sourceId }) => `${source} ${sourceId}`);
  const offs = group(records.writeOffs, ({ of, sourceId }) => `${of} ${sourceId}`);
  const smelts = group(records.testSmelts, ({ lotId }) => lotId);
  const batchesOfLot = group(records.batches, ({ lotId }) => lotId);
  const purchaseOfLot = new Map(records.lotPurchases.map((purchase) => [purchase.lotId, purchase]));
  const soldOn = new Map<string, { on: string; number: string }>();
  for (const { productId, issuedOn, number } of statements) {
    const before = soldOn.get(productId);
    if (before === undefined || issuedOn < before.on) soldOn.set(productId, { on: issuedOn, number });
  }

  const done = new Map<string, WalkedCost>();
  const nothing: WalkedCost = { taken: new Map(), unborne: [] };
  const move = (one: CostMove): void => {
    if (one.on <= records.to && !new Dec(one.amount).isZero()) moves.push(one);
  };
  const kept = (place: Place, work: () => WalkedCost): WalkedCost => {
    const key = `${place.kind} ${place.id}`;
    const known = done.get(key);
    if (known !== undefined) return known;
    done.set(key, nothing);
    const walked = work();
    done.set(key, walked);
    return walked;
  };
  const unborne = (place: Place, document: string, walked: WalkedCost): void => {
    walked.unborne.forEach(({ on, amount }, at) =>
      move({
        key: `unborne:${place.id}:${at}`,
        on,
        from: place,
        to: null,
        leaves: 'cost-of-sales',
        amount,
        document,
        description: `Cost of ${document} with no stock left to bear it`,
      }),
    );
  };
  /** A cost that is put on a place, and is booked by what it comes from. */
  const comesIn = (place: Place, key: string, cost: CostIn): CostIn => {
    move({ ...cost, key, from: null, to: place, leaves: null, document: '', description: '' });
    return cost;
  };
  const partsOut = (source: string, id: string): CostOut[] =>
    (partsFrom.get(`${source} ${id}`) ?? []).map((part) => ({
      key: `part:${part.id}`,
      on: part.takenOn,
      massKg: part.dryMassKg,
    }));

  const workDay = (id: string): WalkedCost => {
    const place: Place = { kind: 'day', id };
    return kept(place, () => {
      const day = days.get(id);
      if (day === undefined) return nothing;
      const walked = walkCost({
        massKg: day.concentrateDryKg,
        comes: [comesIn(place, `day-cost:${id}`, { on: day.day, amount: day.cost.total })],
        goes: partsOut('day', id),
      });
      unborne(place, `day ${day.day}`, walked);
      return walked;
    });
  };

  const sourceOf = (source: 'day' | 'lot' | 'product', id: string): WalkedCost =>
    source === 'day' ? workDay(id) : source === 'lot' ? workLot(id) : workProduct(id);

  const workLot = (id: string): WalkedCost => {
    const place: Place = { kind: 'lot', id };
    return kept(place, () => {
      const lot = lots.get(id);
      if (lot === undefined) return nothing;
      const comes: CostIn[] = [];
      for (const part of partsOfLot.get(id) ?? []) {
        const amount = sourceOf(part.source, part.sourceId).taken.get(`part:${part.id}`) ?? '0';
        comes.push({ on: part.takenOn, amount });
        move({
          key: `part:${part.id}`,
          on: part.takenOn,
          from: { kind: part.source, id: part.sourceId },
          to: place,
          leaves: null,
          amount,
          document: lot.code,
          description: `Lot ${lot.code} made from ${part.sourceCode}`,
        });
      }
      const purchase = purchaseOfLot.get(id);
      if (purchase !== undefined)
        comes.push(comesIn(place, `lot-purchase:${id}`, { on: purchase.boughtOn, amount: lotCost(id) }));
      const goes: CostOut[] = [
        ...(smelts.get(id) ?? []).map((smelt) => ({
          key: `smelt:${smelt.id}`,
          on: smelt.smeltedOn,
          massKg: new Dec(smelt.sampleMassG).div(1000).toFixed(),
          takesNoCost: true,
        })),
        ...partsOut('lot', id),
        ...(batchesOfLot.get(id) ?? []).flatMap((batch) =>
          batch.inWorkOn === null
            ? []
            : [{ key: `batch:${batch.id}`, on: batch.inWorkOn, massKg: batch.dryMassKg }],
        ),
        ...(offs.get(`lot ${id}`) ?? []).map((off) => ({
          key: `write-off:${off.id}`,
          on: off.writtenOffOn,
          massKg: off.massKg,
        })),
      ];
      const walked = walkCost({ massKg: lot.dryMassKg, comes, goes });
      unborne(place, `lot ${lot.code}`, walked);
      for (const off of offs.get(`lot ${id}`) ?? []) writeOff(place, off, walked);
      return walked;
    });
  };

  const writeOff = (place: Place, off: BookRecords['writeOffs'][number], walked: WalkedCost): void =>
    move({
      key: `write-off:${off.id}`,
      on: off.writtenOffOn,
      from: place,
      to: null,
      leaves: 'write-off',
      amount: walked.taken.get(`write-off:${off.id}`) ?? '0',
      document: off.code,
      description: `${off.code} written off: ${off.reason}`,
    });

  /** Taken by each product of the batch, under the product's id. */
  const workBatch = (id: string): WalkedCost & { on: string | null } => {
    const place: Place = { kind: 'batch', id };
    const batch = batches.get(id);
    const sharing = takesCost(ofBatch.get(id) ?? []);
    const lastMade = sharing.reduce((last, { madeOn }) => (madeOn > last ? madeOn : last), '');
    const on =
      lastMade === '' ? null : (batch?.finishedOn ?? '') > lastMade ? (batch?.finishedOn ?? '') : lastMade;
    const walked = kept(place, () => {
      if (batch === undefined) return nothing;
      const comes: CostIn[] = [];
      if (batch.inWorkOn !== null) {
        const amount = workLot(batch.lotId).taken.get(`batch:${id}`) ?? '0';
        comes.push({ on: batch.inWorkOn, amount });
        move({
          key: `into-work:${id}`,
          on: batch.inWorkOn,
          from: { kind: 'lot', id: batch.lotId },
          to: place,
          leaves: null,
          amount,
          document: batch.code,
          description: `Concentrate of lot ${batch.lotCode} into batch ${batch.code}`,
        });
      }
      comes.push(comesIn(place, `batch-cost:${id}`, { on: batch.costOn, amount: batch.cost.total }));
      const inWork = walkCost({
        massKg: '1',
        comes: on === null ? comes : comes.filter((one) => one.on <= on),
        goes: on === null ? [] : [{ key: 'made', on, massKg: null }],
      });
      const late = on === null ? [] : comes.filter((one) => one.on > on);
      const whole = { ...inWork, unborne: [...inWork.unborne, ...late] };
      unborne(place, `batch ${batch.code}`, whole);
      const shares = allocate({
        amount: new Dec(inWork.taken.get('made') ?? 0),
        shares: shareWeights(sharing, (metal) => pricePerG(metal, on ?? '')),
        decimals: 2,
      });
      const taken = new Map(
        sharing.map((product, at) => [product.id, (shares[at] ?? new Dec(0)).toFixed(2)]),
      );
      for (const product of sharing)
        move({
          key: `made:${product.id}`,
          on: on ?? '',
          from: place,
          to: { kind: 'product', id: product.id },
          leaves: null,
          amount: taken.get(product.id) ?? '0',
          document: batch.code,
          description: `${product.code} made of batch ${batch.code}`,
        });
      return { taken, unborne: whole.unborne };
    });
    return { ...walked, on };
  };

  const workProduct = (id: string): WalkedCost => {
    const place: Place = { kind: 'product', id };
    return kept(place, () => {
      const product = productById.get(id);
      if (product === undefined) return nothing;
      const batch = workBatch(product.batchId);
      const amount = batch.taken.get(id);
      const sold = soldOn.get(id);
      const dryShare = new Dec(product.massKg).isZero()
        ? new Dec(1)
        : new Dec(product.dryMassKg).div(product.massKg);
      const walked = walkCost({
        massKg: product.dryMassKg,
        comes: amount === undefined || batch.on === null ? [] : [{ on: batch.on, amount }],
        goes: [
          ...partsOut('product', id),
          ...(offs.get(`product ${id}`) ?? []).map((off) => ({
            key: `write-off:${off.id}`,
            on: off.writtenOffOn,
            massKg: new Dec(off.massKg).times(dryShare).toFixed(),
          })),
          ...(sold === undefined ? [] : [{ key: 'sold', on: sold.on, massKg: null }]),
        ],
      });
      unborne(place, product.code, walked);
      for (const off of offs.get(`product ${id}`) ?? []) writeOff(place, off, walked);
      if (sold !== undefined)
        move({
          key: `sold:${id}`,
          on: sold.on,
          from: place,
          to: null,
          leaves: 'cost-of-sales',
          amount: walked.taken.get('sold') ?? '0',
          document: sold.number,
          description: `Cost of ${product.code}, sold by statement ${sold.number}`,
        });
      return walked;
    });
  };

  for (const { id } of records.days) workDay(id);
  for (const { id } of records.lots) workLot(id);
  for (const { id } of records.batches) workBatch(id);
  for (const { id } of products) workProduct(id);
  return moves.toSorted((a, b) => (a.on < b.on ? -1 : a.on > b.on ? 1 : a.key < b.key ? -1 : 1));
}
