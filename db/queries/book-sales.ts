import { sql, type Kysely } from 'kysely';
import { groupBy } from './group-by.ts';
import { productDryShare } from './material-sources.ts';
import { selectShipped } from './shipments.ts';
import type {
  BookPayment,
  BookProduct,
  BookShipment,
  BookStatement,
} from '../../api/calc/books/book-records.ts';
import { Dec } from '../../api/calc/money.ts';
import { payableOunces } from '../../api/calc/settlement/payable-ounces.ts';
import type { Settlement } from '../../api/calc/settlement/statement.ts';
import type { Terms } from '../../api/calc/terms/terms.ts';
import type { Database } from '../schema.ts';

interface DayRange {
  from: string;
  to: string;
}

/** Metal of a product by its own assay, g, of a mass given as SQL. */
const metalG = (fineness: 'gold' | 'silver') =>
  sql<string | null>`trim_scale(round(product.mass_kg * 1000 * ${sql.raw(`product.${fineness}_fineness_frac`)}
    * (${productDryShare}), 6))`;

function selectProducts(db: Kysely<Database>) {
  return db
    .selectFrom('product')
    .innerJoin('batch', 'batch.id', 'product.batchId')
    .innerJoin('lot', 'lot.id', 'batch.lotId')
    .select([
      'product.id',
      'product.code',
      'product.kind',
      'product.batchId',
      'batch.code as batchCode',
      'batch.lotId',
      'product.madeOn',
      sql<string>`trim_scale(product.mass_kg)`.as('massKg'),
      sql<string>`trim_scale(product.mass_kg * (${productDryShare}))`.as('dryMassKg'),
      metalG('gold').as('goldG'),
      metalG('silver').as('silverG'),
    ]);
}

export async function bookProducts(db: Kysely<Database>, { from, to }: DayRange): Promise<BookProduct[]> {
  return selectProducts(db)
    .where('product.madeOn', '>=', from)
    .where('product.madeOn', '<=', to)
    .orderBy('product.madeOn')
    .orderBy('product.code')
    .execute();
}

/** Shipments that went out in a range, with the mass of each product that went. */
export async function bookShipments(db: Kysely<Database>, { from, to }: DayRange): Promise<BookShipment[]> {
  const shipments = await db
    .selectFrom('shipment')
    .innerJoin('counterparty', 'counterparty.id', 'shipment.counterpartyId')
    .select(['shipment.id', 'shipment.code', 'shippedOn', 'arrivedOn', 'counterparty.name as buyerName'])
    .where('shippedOn', '>=', from)
    .where('shippedOn', '<=', to)
    .orderBy('shippedOn')
    .orderBy('shipment.code')
    .execute();
  if (shipments.length === 0) return [];
  const products = groupBy(
    await selectShipped(db)
      .where('shipmentId', '=', sql<string>`any(${shipments.map(({ id }) => id)}::uuid[])`)
      .execute(),
    (row) => row.shipmentId,
  );
  return shipments.map((shipment) => ({
    ...shipment,
    products: (products.get(shipment.id) ?? []).map(
      ({ id, code, kind, lotId, massKg, dryShare, goldFinenessFrac, silverFinenessFrac }) => {
        const dryMassKg = new Dec(massKg).times(dryShare);
        const metal = (frac: string | null): string | null =>
          frac && dryMassKg.times(1000).times(frac).toDecimalPlaces(6).toFixed();
        return {
          id,
          code,
          kind,
          lotId,
          massKg,
          dryMassKg: dryMassKg.toFixed(),
          goldG: metal(goldFinenessFrac),
          silverG: metal(silverFinenessFrac),
        };
      },
    ),
  }));
}

function selectStatements(db: Kysely<Database>) {
  return db
    .selectFrom('statement')
    .innerJoin('product', 'product.id', 'statement.productId')
    .innerJoin('batch', 'batch.id', 'product.batchId')
    .innerJoin('lot', 'lot.id', 'batch.lotId')
    .innerJoin('terms', 'terms.id', 'statement.termsId')
    .innerJoin('counterparty', 'counterparty.id', 'terms.counterpartyId')
    .leftJoin('treatment', 'treatment.id', 'batch.treatmentId')
    .leftJoin('statement as earlier', 'earlier.id', 'statement.supersedesId')
    .select([
      'statement.id',
      sql<string>`statement.number`.as('number'),
      'statement.stage',
      sql<string>`statement.issued_on::text`.as('issuedOn'),
      'statement.supersedesId',
      'statement.productId',
      'product.code as productCode',
      'product.kind as productKind',
      'product.batchId',
      'batch.code as batchCode',
      'lot.code as lotCode',
      'treatment.name as treatmentName',
      'counterparty.name as buyerName',
      'statement.total',
      'statement.currency',
      'statement.settlement',
      'earlier.settlement as earlierSettlement',
      sql<Terms['direction']>`statement.input #>> '{settlementInput,terms,direction}'`.as('direction'),
      sql<Terms['royalties']>`statement.input #> '{settlementInput,terms,royalties}'`.as('royalties'),
    ])
    .where('statement.status', '=', 'issued')
    .orderBy(sql`length(statement.number)`)
    .orderBy('statement.number');
}

function statementOf({
  total,
  settlement,
  earlierSettlement,
  direction,
  royalties,
  ...row
}: Awaited<ReturnType<ReturnType<typeof selectStatements>['execute']>>[number]): BookStatement {
  const millSells = direction === 'we-sell';
  const now = settlement as Settlement;
  const before = earlierSettlement as Settlement | null;
  return {
    ...row,
    millSells,
    brings: millSells ? total : new Dec(total).negated().toFixed(),
    settlement: now,
    productionTaxes: royalties.flatMap(({ kind, name }) => (kind === 'production-tax' ? [name] : [])),
    payableOzt: { Au: payableOunces(now, 'Au'), Ag: payableOunces(now, 'Ag') },
    payableBeforeOzt: {
      Au: before && payableOunces(before, 'Au'),
      Ag: before && payableOunces(before, 'Ag'),
    },
  };
}

/** Statements issued in a range, in the order of their numbers; those of batches that are known already left out. */
export async function bookStatements(
  db: Kysely<Database>,
  { from, to }: DayRange,
  knownBatchIds: readonly string[] = [],
): Promise<BookStatement[]> {
  const rows = await selectStatements(db)
    .where('statement.issuedOn', '>=', from)
    .where('statement.issuedOn', '<=', to)
    .where('product.batchId', '<>', sql<string>`all(${knownBatchIds}::uuid[])`)
    .execute();
  return rows.map(statementOf);
}

/** Statements of what some batches gave, issued up to a day, by batch and in the order of their numbers. */
export async function statementsOfBatches(
  db: Kysely<Database>,
  batchIds: readonly string[],
  upTo: string,
): Promise<Map<string, BookStatement[]>> {
  if (batchIds.length === 0) return new Map();
  const rows = await selectStatements(db)
    .where('product.batchId', '=', sql<string>`any(${batchIds}::uuid[])`)
    .where('statement.issuedOn', '<=', upTo)
    .execute();
  return groupBy(rows.map(statementOf), ({ batchId }) => batchId);
}

export async function bookPayments(db: Kysely<Database>, { from, to }: DayRange): Promise<BookPayment[]> {
  const rows = await db
    .selectFrom('statementPayment')
    .innerJoin('statement', 'statement.id', 'statementPayment.statementId')
    .innerJoin('terms', 'terms.id', 'statement.termsId')
    .innerJoin('counterparty', 'counterparty.id', 'terms.counterpartyId')
    .select([
      'statementPayment.id',
      'statementPayment.statementId',
      sql<string>`statement.number`.as('statementNumber'),
      'counterparty.name as buyerName',
      'statement.currency as statementCurrency',
      sql<Terms['direction']>`statement.input #>> '{settlementInput,terms,direction}'`.as('direction'),
      'paidOn',
      'statementPayment.amount',
      'statementPayment.currency',
      'countsAs',
      'reference',
    ])
    .where('paidOn', '>=', from)
    .where('paidOn', '<=', to)
    .orderBy('paidOn')
    .orderBy('enteredAt')
    .execute();
  return rows.map(({ direction, ...row }) => ({ ...row, millSells: direction === 'we-sell' }));
}
