import type { Kysely } from 'kysely';
import type { Place } from './calc/books/cost-flow.ts';
import { exchanged } from './calc/books/exchange.ts';
import { inventoriesOn, type InventoryFacts } from './calc/books/inventories.ts';
import { netRealizableValue, type SaleableMaterial } from './calc/books/net-realizable-value.ts';
import type { BookProduct, BookRecords } from './calc/books/book-records.ts';
import { sumOf } from './calc/money.ts';
import type { Terms } from './calc/terms/terms.ts';
import { keptGrades, type KeptGrade } from '../db/queries/kept-grades.ts';
import { latestQuotations } from '../db/queries/quotations.ts';
import { batchTerms, lotMoistures, type BatchTerms } from '../db/queries/realizable-facts.ts';
import type { Database } from '../db/schema.ts';

type Realizable = InventoryFacts['realizable'];
type Facts = Omit<InventoryFacts, 'records' | 'products' | 'realizable'> & {
  records: BookRecords;
  products: readonly BookProduct[];
};

/** How the quotations call what a contract's price is per. */
const QUOTED_PER: Partial<Record<string, string>> = { ozt: 'ozt', tonne: 't', lb: 'lb', kg: 'kg', g: 'g' };

/**
 * What material will fetch at the end of some days: a lot and a batch by the terms of the lot's last batch, a product by
 * its own. What a lot holds is what the month's report says of it; what it gives is that times the recovery of its
 * treatment.
 */
export async function realizablesOn(
  db: Kysely<Database>,
  facts: Facts,
  days: readonly string[],
): Promise<(day: string) => Realizable> {
  const { batches, terms } = await batchTerms(db, days.at(-1) ?? '');
  const lots = await lotsInStock(db, facts, days, batches);
  const byDay = new Map<string, Realizable>();
  for (const day of days)
    byDay.set(
      day,
      realizableOn(facts, { day, batches, terms, lots, quoted: await latestQuotations(db, day) }),
    );
  return (day) => byDay.get(day) ?? (() => ({ value: null, remark: 'not asked for' }));
}

type LotFacts = Map<string, { grade: KeptGrade; moistureFrac: number }>;

/** Only of lots that lie there, as they are, in work or as parcels: grades take long to infer where none is kept. */
async function lotsInStock(
  db: Kysely<Database>,
  facts: Facts,
  days: readonly string[],
  batches: readonly BatchTerms[],
): Promise<LotFacts> {
  const lotOfBatch = new Map(batches.map(({ batchId, lotId }) => [batchId, lotId]));
  const parcelById = new Map(
    facts.products.flatMap((one) =>
      one.kind === 'parcel' && (one.goldG === null || one.silverG === null) ? [[one.id, one.lotId]] : [],
    ),
  );
  const ids = new Set<string>();
  const noted: Realizable = ({ kind, id }) => {
    const lotId = kind === 'batch' ? lotOfBatch.get(id) : kind === 'product' ? parcelById.get(id) : id;
    if (lotId !== undefined) ids.add(lotId);
    return { value: null, remark: '' };
  };
  for (const day of days) inventoriesOn({ ...facts, realizable: noted }, day);
  const lotIds = [...ids];
  const { grades } = await keptGrades(db, lotIds);
  const moistures = await lotMoistures(db, lotIds);
  return new Map([...grades].map(([id, grade]) => [id, { grade, moistureFrac: moistures.get(id) ?? 0 }]));
}

interface DayFacts {
  day: string;
  batches: readonly BatchTerms[];
  terms: ReadonlyMap<string, Terms>;
  lots: LotFacts;
  quoted: Awaited<ReturnType<typeof latestQuotations>>;
}

function realizableOn(
  { records, products }: Facts,
  { day, batches, terms, lots, quoted }: DayFacts,
): Realizable {
  const productById = new Map(products.map((product) => [product.id, product]));
  const batchById = new Map(batches.map((batch) => [batch.batchId, batch]));
  const planned = batches.filter(({ plannedOn }) => plannedOn <= day);
  const last = planned.at(-1);
  const lastOfLot = new Map(planned.map((batch) => [batch.lotId, batch]));
  const costPerKg = costOfTreating(records, day);
  const paidFor = new Map(records.batches.map((batch) => [batch.id, batch.costOn <= day]));
  const priceOf = ({ metals: priced, currency }: Terms, metal: string): number | null => {
    const price = priced.find((one) => one.metal === metal)?.price;
    const found = quoted.find(
      (one) =>
        one.metal === metal &&
        one.currency === (price?.currency ?? currency) &&
        one.unit === QUOTED_PER[price?.unit ?? ''],
    );
    return found === undefined || (price?.currency ?? currency) !== currency ? null : Number(found.price);
  };
  const told = (amount: string, currency: string): string | null =>
    exchanged({ amount, currency, on: day, millCurrency: records.currency, rates: records.rates }).amount;
  /** Grams in so many kilograms of a lot, all of it or what a treatment recovers; null where it is not known. */
  const gramsIn = (lotId: string, metal: 'Au' | 'Ag', massKg: number, recoveryFrac: number | null) => {
    const grade = lots.get(lotId)?.grade[metal];
    return grade == null ? null : (grade.mean * massKg * (recoveryFrac ?? 1)) / 1000;
  };

  const ofProduct = (id: string, mass: number): SaleableMaterial => {
    const product = productById.get(id);
    const share = product === undefined ? 0 : mass / Number(product.dryMassKg);
    const gramsOf = (own: string | null, metal: 'Au' | 'Ag'): number | null =>
      own !== null
        ? Number(own) * share
        : product?.kind === 'parcel'
          ? gramsIn(product.lotId, metal, mass, null)
          : null;
    return {
      wetMassKg: product === undefined ? mass : Number(product.massKg) * share,
      dryMassKg: mass,
      goldG: gramsOf(product?.goldG ?? null, 'Au'),
      silverG: gramsOf(product?.silverG ?? null, 'Ag'),
      terms: terms.get(batchById.get(product?.batchId ?? '')?.termsId ?? '') ?? null,
      costToComplete: 0,
    };
  };
  const ofLot = ({ kind, id }: Place, mass: number): SaleableMaterial => {
    const lotId = kind === 'lot' ? id : (batchById.get(id)?.lotId ?? '');
    const by = kind === 'batch' ? batchById.get(id) : (lastOfLot.get(lotId) ?? last);
    const isTreated = by?.goldRecoveryFrac != null;
    const isPaid = kind === 'batch' && paidFor.get(id) === true;
    return {
      wetMassKg: mass / (1 - (lots.get(lotId)?.moistureFrac ?? 0)),
      dryMassKg: mass,
      goldG: gramsIn(lotId, 'Au', mass, by?.goldRecoveryFrac ?? null),
      silverG: gramsIn(lotId, 'Ag', mass, by?.silverRecoveryFrac ?? null),
      terms: terms.get(by?.termsId ?? '') ?? null,
      costToComplete: isTreated && !isPaid ? costPerKg * mass : 0,
    };
  };
  return (place, massKg) =>
    netRealizableValue({
      material: place.kind === 'product' ? ofProduct(place.id, Number(massKg)) : ofLot(place, Number(massKg)),
      priceOf,
      told,
    });
}

/** What batches by a treatment have cost a kilogram on average until a day; 0 where there was none. */
function costOfTreating({ batches }: BookRecords, day: string): number {
  const treated = batches.filter(
    ({ costOn, status, treatmentId }) => costOn <= day && status === 'done' && treatmentId !== null,
  );
  const massKg = sumOf(treated.map(({ dryMassKg }) => dryMassKg));
  if (massKg.isZero()) return 0;
  return sumOf(treated.map(({ cost }) => cost.total))
    .div(massKg)
    .toNumber();
}
