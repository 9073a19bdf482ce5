import { setImmediate as turn } from 'node:timers/promises';
import type { Kysely } from 'kysely';
import { addDays } from './calc/calendar.ts';
import { exchanged } from './calc/books/exchange.ts';
import type { Place } from './calc/books/cost-flow.ts';
import type { InventoryFacts } from './calc/books/inventories.ts';
import { periodBooks } from './calc/books/period-books.ts';
import { netRealizableValue } from './calc/books/net-realizable-value.ts';
import { rateBook } from './calc/books/rate-book.ts';
import { receivablesByAge } from './calc/books/receivables-by-age.ts';
import type { StatementBooking } from './calc/books/statement-entries.ts';
import type { BookProduct, BookRecords } from './calc/books/book-records.ts';
import { Dec, sumOf, type DecimalNumber } from './calc/money.ts';
import { metalValueOf, splitChange, type SettlementChange } from './calc/settlement/split-change.ts';
import type { Terms } from './calc/terms/terms.ts';
import { gramsPerTroyOunce } from './calc/units.ts';
import { Problem } from './problem.ts';
import { listAccountCodes } from '../db/queries/account-codes.ts';
import { bookRecords } from '../db/queries/book-records.ts';
import { bookProducts } from '../db/queries/book-sales.ts';
import { bookedStatements, recordedTotals, statementDueDays } from '../db/queries/booked-statements.ts';
import { findMill } from '../db/queries/mill.ts';
import { latestQuotations, quotationSeries } from '../db/queries/quotations.ts';
import { batchTerms, lotMetals } from '../db/queries/realizable-facts.ts';
import { findStatement } from '../db/queries/statements.ts';
import { bookedOn } from '../reports/model/accountant-sales.ts';
import type { AccountantInput, KnownTotal, ReceivableRow } from '../reports/model/accountant-input.ts';
import type { Database } from '../db/schema.ts';

export interface Period {
  from: string;
  to: string;
}

/** No record of a mill is older, and none newer. */
const FIRST_DAY = '1000-01-01';
const LAST_DAY = '9999-12-31';

/** How the quotations call what a contract's price is per. */
const QUOTED_PER: Partial<Record<string, string>> = { ozt: 'ozt', tonne: 't', lb: 'lb', kg: 'kg', g: 'g' };

/** Everything that the accountant's tables of a period are made of. */
export async function accountantInput(
  db: Kysely<Database>,
  { from, to, madeOn }: Period & { madeOn: string },
): Promise<AccountantInput> {
  const mill = await findMill(db);
  const { records, findings } = await bookRecords(db, { from: FIRST_DAY, to }, { withStatements: false });
  await turn();
  const statements = await bookedStatements(db, to);
  const products = await bookProducts(db, { from: FIRST_DAY, to: LAST_DAY });
  await turn();
  const splits = await metalSplits(
    db,
    statements.filter(({ issuedOn }) => issuedOn >= from),
  );
  const rates = rateBook({ millCurrency: mill.currency, rates: await allRates(db, to) });
  const books = periodBooks({
    from,
    to,
    records,
    statements,
    products,
    splitOf: (id) => splits.get(id) ?? null,
    pricePerG: await pricesPerG(db, mill.currency, to),
    rates,
    realizableOn: await realizables(db, { records, products, days: [from, to], rates: records.rates }),
  });
  const missing = rates.findings();
  if (missing.length > 0)
    throw new Problem('validation', missing.map(({ sentence }) => sentence).join(' '), {
      errors: missing.map(({ sentence }) => ({ pointer: '/to', detail: sentence })),
    });
  const inPeriod = (day: string): boolean => day >= from && day <= to;
  const input: AccountantInput = {
    millName: mill.name,
    isDemo: mill.isDemo,
    currency: mill.currency,
    madeOn,
    books,
    accounts: await listAccountCodes(db),
    supplies: records.supplies,
    supplyPurchases: records.supplyPurchases.filter(({ boughtOn }) => inPeriod(boughtOn)),
    lotPurchases: records.lotPurchases.filter(({ boughtOn }) => inPeriod(boughtOn)),
    expenses: records.expenses.filter(({ spentOn }) => inPeriod(spentOn)),
    receivables: await receivables(db, { books: books.bookings, records, to }),
    known: [],
    remarks: remarksOf(
      records,
      findings.map(({ sentence }) => sentence),
      inPeriod,
    ),
    closedMonths: (await db.selectFrom('closedMonth').select('month').orderBy('month').execute()).map(
      ({ month }) => month,
    ),
  };
  return { ...input, known: await knownTotals(db, input, records) };
}

async function allRates(db: Kysely<Database>, to: string) {
  return db
    .selectFrom('exchangeRate')
    .select(['currency', 'ratedOn', 'rate'])
    .where('ratedOn', '<=', to)
    .execute();
}

/** Later statements of the period against those that they follow. */
async function metalSplits(
  db: Kysely<Database>,
  statements: readonly { id: string; supersedesId: string | null }[],
): Promise<Map<string, SettlementChange | null>> {
  const splits = new Map<string, SettlementChange | null>();
  for (const { id, supersedesId } of statements) {
    if (supersedesId === null) continue;
    const previous = (await findStatement(db, supersedesId)).kept.settlementInput;
    const next = (await findStatement(db, id)).kept.settlementInput;
    splits.set(id, splitChange({ previous, next, worthOf: metalValueOf }));
    await turn();
  }
  return splits;
}

/** Value of a gram by the last quotation per troy ounce in the mill's currency. */
async function pricesPerG(
  db: Kysely<Database>,
  currency: string,
  to: string,
): Promise<(metal: 'Au' | 'Ag', on: string) => DecimalNumber | null> {
  const series = {
    Au: await quotationSeries(db, { metal: 'Au', currency, unit: 'ozt', to }),
    Ag: await quotationSeries(db, { metal: 'Ag', currency, unit: 'ozt', to }),
  };
  return (metal, on) => {
    const last = series[metal].findLast(({ date }) => date <= on);
    return last === undefined ? null : new Dec(last.price).div(gramsPerTroyOunce);
  };
}

/** What material will fetch on a day: a lot and a batch by the terms of the lot's last batch, a product by its own. */
async function realizables(
  db: Kysely<Database>,
  facts: {
    records: BookRecords;
    products: readonly BookProduct[];
    days: readonly [from: string, to: string];
    rates: BookRecords['rates'];
  },
): Promise<(day: string) => InventoryFacts['realizable']> {
  const { records, products, days } = facts;
  const { batches, terms } = await batchTerms(db, days[1]);
  const metals = new Map((await lotMetals(db)).map((lot) => [lot.lotId, lot]));
  const productById = new Map(products.map((product) => [product.id, product]));
  const batchById = new Map(batches.map((batch) => [batch.batchId, batch]));
  const lotOfBatch = new Map(batches.map(({ batchId, lotId }) => [batchId, lotId]));
  const quotations = new Map<string, Awaited<ReturnType<typeof latestQuotations>>>();
  for (const day of [addDays(days[0], -1), days[1]]) quotations.set(day, await latestQuotations(db, day));
  return (day) => {
    const quoted = quotations.get(day) ?? [];
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
      exchanged({ amount, currency, on: day, millCurrency: records.currency, rates: facts.rates }).amount;
    const planned = batches.filter(({ plannedOn }) => plannedOn <= day);
    const last = planned.at(-1);
    const lastOfLot = new Map(planned.map((batch) => [batch.lotId, batch]));
    const treated = records.batches.filter(
      ({ costOn, status, treatmentId }) => costOn <= day && status === 'done' && treatmentId !== null,
    );
    const treatedKg = sumOf(treated.map(({ dryMassKg }) => dryMassKg));
    const costPerKg = treatedKg.isZero()
      ? 0
      : sumOf(treated.map(({ cost }) => cost.total))
          .div(treatedKg)
          .toNumber();
    const paidFor = new Map(records.batches.map((batch) => [batch.id, batch.costOn <= day]));

    return (place: Place, massKg: string) => {
      const mass = Number(massKg);
      if (place.kind === 'product') {
        const product = productById.get(place.id);
        const batch = batchById.get(product?.batchId ?? '');
        const share = product === undefined ? 0 : mass / Number(product.dryMassKg);
        const metal = metals.get(lotOfBatch.get(product?.batchId ?? '') ?? '');
        const asLot = (own: string | null, gpt: number | null | undefined): number | null =>
          own !== null
            ? Number(own) * share
            : product?.kind === 'parcel' && gpt != null
              ? (gpt * mass) / 1000
              : null;
        return netRealizableValue({
          material: {
            wetMassKg: product === undefined ? mass : Number(product.massKg) * share,
            dryMassKg: mass,
            goldG: asLot(product?.goldG ?? null, metal?.assayedGoldGpt ?? metal?.smeltedGoldGpt),
            silverG: asLot(product?.silverG ?? null, metal?.assayedSilverGpt ?? metal?.smeltedSilverGpt),
            terms: terms.get(batch?.termsId ?? '') ?? null,
            costToComplete: 0,
          },
          priceOf,
          told,
        });
      }
      const lotId = place.kind === 'lot' ? place.id : (lotOfBatch.get(place.id) ?? '');
      const by = place.kind === 'batch' ? batchById.get(place.id) : (lastOfLot.get(lotId) ?? last);
      const metal = metals.get(lotId);
      const asIs = by?.goldRecoveryFrac == null;
      const gpt = (assayed: number | null, smelted: number | null, recovery: number | null): number | null =>
        asIs ? (assayed ?? smelted) : (smelted ?? (assayed === null ? null : assayed * (recovery ?? 0)));
      const gold = gpt(
        metal?.assayedGoldGpt ?? null,
        metal?.smeltedGoldGpt ?? null,
        by?.goldRecoveryFrac ?? null,
      );
      const silver = gpt(
        metal?.assayedSilverGpt ?? null,
        metal?.smeltedSilverGpt ?? null,
        by?.silverRecoveryFrac ?? null,
      );
      const paid = place.kind === 'batch' && paidFor.get(place.id) === true;
      return netRealizableValue({
        material: {
          wetMassKg: mass / (1 - (metal?.moistureFrac ?? 0)),
          dryMassKg: mass,
          goldG: gold === null ? null : (gold * mass) / 1000,
          silverG: silver === null ? null : (silver * mass) / 1000,
          terms: terms.get(by?.termsId ?? '') ?? null,
          costToComplete: asIs || paid ? 0 : costPerKg * mass,
        },
        priceOf,
        told,
      });
    };
  };
}

/** Statements that are open at the end, what is held back, and what the mill owes buyers. */
async function receivables(
  db: Kysely<Database>,
  { books, records, to }: { books: readonly StatementBooking[]; records: BookRecords; to: string },
): Promise<ReceivableRow[]> {
  const paid = new Map<string, DecimalNumber>();
  for (const { statementId, countsAs } of records.payments)
    paid.set(statementId, (paid.get(statementId) ?? new Dec(0)).plus(countsAs));
  const items = books.flatMap(
    (booking): (Omit<ReceivableRow, 'dueOn' | 'age' | 'daysOverdue'> & { id: string })[] => {
      const { statement, due, dueBooked, dueAccount } = booking;
      if (!statement.millSells) return [];
      const sign = dueAccount === 'receivable' ? 1 : -1;
      const paidOf = (paid.get(statement.id) ?? new Dec(0)).times(sign);
      const rate = new Dec(dueBooked).isZero() ? '1' : rateOf(booking);
      const freed = paidOf.times(rate).toDecimalPlaces(2);
      return [
        {
          id: statement.id,
          document: statement.number,
          counterparty: statement.buyerName,
          issuedOn: statement.issuedOn,
          currency: statement.currency,
          total: due,
          paid: paidOf.toFixed(2),
          open: new Dec(due).minus(paidOf).toFixed(2),
          booked: new Dec(dueBooked).minus(freed).toFixed(2),
          account: dueAccount,
        },
      ];
    },
  );
  const open = items.filter((item) => !new Dec(item.open).isZero() || !new Dec(item.booked).isZero());
  const dueDays = await statementDueDays(
    db,
    open.map(({ id }) => id),
  );
  const held = heldBack(books);
  return [...open, ...held].flatMap((item) => {
    const dueOn = 'id' in item && typeof item.id === 'string' ? (dueDays.get(item.id) ?? null) : null;
    const [aged] = receivablesByAge([{ ...item, dueOn }], to);
    return [{ ...item, dueOn, age: aged?.age ?? 'not yet due', daysOverdue: aged?.daysOverdue ?? 0 }];
  });
}

function rateOf({ entries }: StatementBooking): string {
  return entries[0]?.lines.find(({ foreign }) => foreign !== null)?.foreign?.rate ?? '1';
}

/** What buyers keep until later, under the last statement on each product. */
function heldBack(
  books: readonly StatementBooking[],
): Omit<ReceivableRow, 'dueOn' | 'age' | 'daysOverdue'>[] {
  const held = new Map<string, { last: StatementBooking; open: DecimalNumber; booked: DecimalNumber }>();
  for (const booking of books) {
    const before = held.get(booking.statement.productId);
    held.set(booking.statement.productId, {
      last: booking,
      open: (before?.open ?? new Dec(0)).plus(booking.change.get('receivable-held-back') ?? 0),
      booked: (before?.booked ?? new Dec(0)).plus(bookedOn(booking, 'receivable-held-back')),
    });
  }
  return [...held.values()]
    .filter(({ booked }) => !booked.isZero())
    .map(({ last, open, booked }) => ({
      document: last.statement.number,
      counterparty: last.statement.buyerName,
      issuedOn: last.statement.issuedOn,
      currency: last.statement.currency,
      total: open.toFixed(2),
      paid: '0.00',
      open: open.toFixed(2),
      booked: booked.toFixed(2),
      account: 'receivable-held-back',
    }));
}

/** What could not be costed or is short, of what happened in the period. */
function remarksOf(
  records: BookRecords,
  findings: readonly string[],
  inPeriod: (day: string) => boolean,
): string[] {
  const missing = [
    ...records.days
      .filter(({ day }) => inPeriod(day))
      .flatMap(({ day, cost }) => cost.missing.map((one) => `${day}: ${one}`)),
    ...records.batches
      .filter(({ status, costOn }) => status === 'done' && inPeriod(costOn))
      .flatMap(({ code, cost }) => cost.missing.map((one) => `Batch ${code}: ${one}`)),
  ];
  return [...new Set([...missing, ...findings])].map((sentence) => `To look at: ${sentence}`);
}

/** Sums that the database makes by itself, beside what the sheets say. */
async function knownTotals(
  db: Kysely<Database>,
  { books, supplyPurchases, lotPurchases, expenses }: AccountantInput,
  records: BookRecords,
): Promise<KnownTotal[]> {
  const { from, to } = books;
  const of = (rows: readonly { currency: string; amount: string }[], currency: string): string =>
    sumOf(rows.filter((row) => row.currency === currency).map(({ amount }) => amount)).toFixed(2);
  const ofPeriod = books.bookings.filter(({ statement }) => statement.issuedOn >= from);
  const byId = new Map(books.bookings.map((booking) => [booking.statement.id, booking]));
  const ours = {
    statements: ofPeriod.map(({ statement, due }) => ({ currency: statement.currency, amount: due })),
    payments: records.payments.flatMap(({ statementId, paidOn, countsAs }) => {
      const booking = byId.get(statementId);
      if (booking === undefined) return [];
      const on = paidOn < booking.statement.issuedOn ? booking.statement.issuedOn : paidOn;
      const amount = booking.dueAccount === 'receivable' ? countsAs : `-${countsAs}`;
      return on >= from ? [{ currency: booking.statement.currency, amount }] : [];
    }),
    supplies: supplyPurchases,
    lots: lotPurchases,
    expenses,
  };
  const words = {
    statements: 'Statements of the period, as printed',
    payments: 'Payments on statements',
    supplies: 'Supplies bought',
    lots: 'Concentrate bought',
    expenses: 'Expenses',
  };
  return (await recordedTotals(db, { from, to })).map(({ what, currency, amount }) => ({
    what: words[what],
    source: 'Records, added up by the database',
    currency,
    amount,
    ours: of(ours[what], currency),
  }));
}
