import { sql, type Kysely } from 'kysely';
import { groupBy } from './group-by.ts';
import { lotLeftKg, productDryShare, productLeftDryKg, productLeftKg } from './material-sources.ts';
import { numberOf } from './numbers.ts';
import { filledIn, pageOf, type PageAsked, type Paged } from './page.ts';
import { containedMetalG } from '../../api/calc/production/contained-metal.ts';
import { whereabouts } from '../../api/calc/production/whereabouts.ts';
import { usualAssayUncertainty } from '../../api/calc/assay/lab-assay.ts';
import type { Measured } from '../../api/calc/measured.ts';
import type { StockLot, StockProduct } from '../../api/schemas/stock.ts';
import { keptGrades, measuredGrade } from './kept-grades.ts';
import type { LotGrade } from './made-from.ts';
import type { Database } from '../schema.ts';

/** Gives the grades of lots, inferred from their tests and assays; one for which there was no time is left out. */
export type GradesOf = (lotIds: readonly string[]) => Promise<ReadonlyMap<string, LotGrade>>;

export function gradesWithin(db: Kysely<Database>, withinMs: number): GradesOf {
  return async (lotIds) => {
    const { grades } = await keptGrades(db, lotIds, { withinMs });
    return new Map([...grades].map(([lotId, grade]) => [lotId, measuredGrade(grade)]));
  };
}

interface Scales {
  lotScaleUncertaintyFrac: string;
  barScaleUncertaintyG: string;
}

const GPT_PER_FRAC = 1e6;

/** Lots of which anything is left, a page of them. */
export async function lotsInStock(
  db: Kysely<Database>,
  { gradesOf, scales }: { gradesOf: GradesOf; scales: Scales },
  page: PageAsked,
): Promise<{ lots: Paged<StockLot>; lotsWithMetal: number }> {
  const query = db
    .selectFrom('lot')
    .select([
      'lot.id',
      'lot.code',
      'lot.description',
      'lot.madeOn',
      sql<string>`trim_scale(lot.wet_mass_kg * (1 - lot.moisture_frac))`.as('dryMassKg'),
      lotLeftKg.as('leftKg'),
    ])
    .where(sql<boolean>`${lotLeftKg} > 0`);
  const order = { by: ['lot.made_on', 'lot.code', 'lot.id'], from: 'lot' };
  const { rows, next } = await pageOf(db, query, order, page);
  const grades = await gradesOf(rows.map(({ id }) => id));
  const lots = rows.map((row): StockLot => {
    const leftKg = numberOf(row.leftKg);
    const mass = { value: leftKg, u: numberOf(scales.lotScaleUncertaintyFrac) * numberOf(row.dryMassKg) };
    const grade = grades.get(row.id);
    return {
      ...row,
      goldG: containedMetalG(mass, grade?.Au ?? null),
      silverG: containedMetalG(mass, grade?.Ag ?? null),
    };
  });
  return { lots: { rows: lots, next }, lotsWithMetal: grades.size };
}

function selectProducts(db: Kysely<Database>) {
  return db
    .selectFrom('product')
    .innerJoin('batch', 'batch.id', 'product.batchId')
    .innerJoin('lot', 'lot.id', 'batch.lotId')
    .leftJoin('shipmentProduct', 'shipmentProduct.productId', 'product.id')
    .leftJoin('shipment', 'shipment.id', 'shipmentProduct.shipmentId')
    .select([
      'product.id',
      'product.code',
      'product.kind',
      'product.batchId',
      'batch.code as batchCode',
      'batch.lotId',
      'product.madeOn',
      sql<string>`trim_scale(product.mass_kg)`.as('massKg'),
      productLeftKg.as('leftKg'),
      productLeftDryKg.as('leftDryKg'),
      sql<string>`${productDryShare}`.as('dryShare'),
      'product.goldFinenessFrac',
      'product.silverFinenessFrac',
      'product.massStandardUncertaintyKg',
      'product.goldStandardUncertaintyFrac',
      'product.silverStandardUncertaintyFrac',
      'shipment.id as shipmentId',
      'shipment.code as shipmentCode',
      'shipment.shippedOn',
      'shipment.arrivedOn',
      'shipment.insuredFor',
      'shipment.insuredCurrency',
      sql<
        string | null
      >`(select max(taken_on)::text from lot_part where lot_part.product_id = product.id)`.as('workedUpOn'),
      sql<
        string | null
      >`(select max(written_off_on)::text from write_off where write_off.product_id = product.id)`.as(
        'writtenOffOn',
      ),
    ])
    .orderBy('product.madeOn')
    .orderBy('product.code');
}

type Row = Awaited<ReturnType<ReturnType<typeof selectProducts>['execute']>>[number];

function massOf(row: Row, scales: Scales): Measured {
  const stated = numberOf(row.massStandardUncertaintyKg);
  const onBarScale = row.kind === 'bar' || row.kind === 'bead';
  const ofScale = onBarScale
    ? numberOf(scales.barScaleUncertaintyG) / 1000
    : numberOf(scales.lotScaleUncertaintyFrac) * numberOf(row.massKg);
  return { value: numberOf(row.leftDryKg), u: (stated ?? ofScale) * numberOf(row.dryShare) };
}

function assayed(frac: string | null, u: string | null): Measured | null {
  if (frac === null) return null;
  const value = GPT_PER_FRAC * Number(frac);
  return { value, u: u === null ? usualAssayUncertainty({ value, unit: 'g/t' }) : GPT_PER_FRAC * Number(u) };
}

/** Whether a product holds what its lot holds: a parcel without assays of its own. */
const isAsLot = ({ kind, goldFinenessFrac, silverFinenessFrac }: Row): boolean =>
  kind === 'parcel' && (goldFinenessFrac === null || silverFinenessFrac === null);

/** Gold and silver of a product by its own assay; a parcel without one holds what its lot holds. */
function metalOf(
  row: Row,
  grades: ReadonlyMap<string, LotGrade>,
  scales: Scales,
): Pick<StockProduct, 'goldG' | 'silverG'> {
  const own = {
    Au: assayed(row.goldFinenessFrac, row.goldStandardUncertaintyFrac),
    Ag: assayed(row.silverFinenessFrac, row.silverStandardUncertaintyFrac),
  };
  const ofLot = (isAsLot(row) ? grades.get(row.lotId) : undefined) ?? { Au: null, Ag: null };
  const mass = massOf(row, scales);
  return {
    goldG: containedMetalG(mass, own.Au ?? ofLot.Au),
    silverG: containedMetalG(mass, own.Ag ?? ofLot.Ag),
  };
}

async function withWhereabouts(
  db: Kysely<Database>,
  rows: Row[],
  gradesOf: GradesOf,
  scales: Scales,
): Promise<StockProduct[]> {
  if (rows.length === 0) return [];
  const grades = await gradesOf([...new Set(rows.filter(isAsLot).map(({ lotId }) => lotId))]);
  const statements = groupBy(
    await db
      .selectFrom('statement')
      .select([
        'productId',
        sql<string>`number`.as('number'),
        'stage',
        sql<string>`issued_on::text`.as('issuedOn'),
        sql<string | null>`input #>> '{entry,dates,shippedOn}'`.as('shippedOn'),
        sql<string | null>`input #>> '{entry,dates,arrivedOn}'`.as('arrivedOn'),
      ])
      .where('status', '=', 'issued')
      .where('productId', '=', sql<string>`any(${rows.map(({ id }) => id)}::uuid[])`)
      .orderBy(sql`length(number)`)
      .orderBy('number')
      .execute(),
    (row) => row.productId,
  );
  return rows.map((row): StockProduct => ({
    id: row.id,
    code: row.code,
    kind: row.kind,
    batchId: row.batchId,
    batchCode: row.batchCode,
    madeOn: row.madeOn,
    massKg: row.massKg,
    leftKg: row.leftKg,
    leftDryKg: row.leftDryKg,
    shipmentId: row.shipmentId,
    insuredFor: row.insuredFor,
    insuredCurrency: row.insuredCurrency,
    ...whereabouts({
      madeOn: row.madeOn,
      isUsedUp: !(numberOf(row.leftKg) > 0),
      workedUpOn: row.workedUpOn,
      writtenOffOn: row.writtenOffOn,
      shipment:
        row.shipmentCode === null || row.shippedOn === null
          ? null
          : { code: row.shipmentCode, shippedOn: row.shippedOn, arrivedOn: row.arrivedOn },
      statements: statements.get(row.id) ?? [],
    }),
    ...metalOf(row, grades, scales),
  }));
}

/** Products: those that are neither settled nor used up, or with `all` every one; a page of them. */
export async function productsInStock(
  db: Kysely<Database>,
  {
    gradesOf,
    scales,
    all,
    seasonId,
  }: { gradesOf: GradesOf; scales: Scales; all: boolean; seasonId?: string | undefined },
  page: PageAsked,
): Promise<Paged<StockProduct>> {
  let query = selectProducts(db);
  if (seasonId !== undefined) query = query.where('lot.seasonId', '=', seasonId);
  if (!all)
    query = query
      .where(sql<boolean>`${productLeftKg} > 0`)
      .where((where) =>
        where.not(
          where.exists(
            where
              .selectFrom('statement')
              .select('statement.id')
              .whereRef('statement.productId', '=', 'product.id')
              .where('statement.status', '=', 'issued')
              .where('statement.stage', 'in', ['final', 'adjustment']),
          ),
        ),
      );
  const order = { by: ['product.made_on', 'product.code', 'product.id'], from: 'product' };
  return filledIn(pageOf(db, query, order, page), (rows) => withWhereabouts(db, rows, gradesOf, scales));
}

/** Some products with where they are and what they hold. */
export async function productsWithMetal(
  db: Kysely<Database>,
  ids: readonly string[],
  { gradesOf, scales }: { gradesOf: GradesOf; scales: Scales },
): Promise<StockProduct[]> {
  const query = selectProducts(db).where('product.id', '=', sql<string>`any(${ids}::uuid[])`);
  return withWhereabouts(db, await query.execute(), gradesOf, scales);
}
