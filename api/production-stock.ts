import type { Kysely } from 'kysely';
import { shipmentWorth } from './calc/production/shipment-worth.ts';
import { Dec } from './calc/money.ts';
import type { Finding } from './calc/finding.ts';
import type { Shipment } from './schemas/shipment.ts';
import type { Stock, StockProduct } from './schemas/stock.ts';
import { PAGE_WAIT_MS } from '../db/queries/kept-grades.ts';
import { findMill } from '../db/queries/mill.ts';
import { latestQuotations } from '../db/queries/quotations.ts';
import { findShipment } from '../db/queries/shipments.ts';
import {
  gradesWithin,
  lotsInStock,
  productsInStock,
  productsWithMetal,
  type GradesOf,
} from '../db/queries/stock.ts';
import type { Database } from '../db/schema.ts';

interface StockAsked {
  all: boolean;
  /** Whether gold and silver are worked out, which takes longest. */
  metal: boolean;
  seasonId?: string | undefined;
  /** Of lots and of products each. */
  limit: number;
  afterLot?: string | undefined;
  afterProduct?: string | undefined;
}

const noGrades: GradesOf = () => Promise.resolve(new Map());

/** What is where, since when, and what it holds, the newest first. */
export async function stockOf(
  db: Kysely<Database>,
  { all, metal, seasonId, limit, afterLot, afterProduct }: StockAsked,
): Promise<Stock> {
  const scales = await findMill(db);
  const gradesOf = metal ? gradesWithin(db, PAGE_WAIT_MS) : noGrades;
  const page = { limit, newestFirst: true };
  const { lots, lotsWithMetal } = await lotsInStock(db, { gradesOf, scales }, { ...page, after: afterLot });
  const products = await productsInStock(
    db,
    { gradesOf, scales, all, seasonId },
    { ...page, after: afterProduct },
  );
  return {
    lots: lots.rows,
    nextLots: lots.next,
    lotsWithMetal,
    products: products.rows,
    nextProducts: products.next,
  };
}

export interface Worth {
  currency: string;
  quotedOn: string | null;
  value: number;
  products: (Pick<StockProduct, 'id' | 'code' | 'goldG' | 'silverG'> & { value: number | null })[];
  findings: Finding[];
}

/** The insured sum in the mill's currency, by the rate of the day it was shipped; null with a finding: no rate. */
async function insuredInMillCurrency(
  db: Kysely<Database>,
  { insuredFor, insuredCurrency, shippedOn }: Shipment,
  currency: string,
): Promise<{ amount: number | null; findings: Finding[] }> {
  if (insuredFor === null || insuredCurrency === null || insuredCurrency === currency)
    return { amount: insuredFor === null ? null : Number(insuredFor), findings: [] };
  const row = await db
    .selectFrom('exchangeRate')
    .select('rate')
    .where('currency', '=', insuredCurrency)
    .where('ratedOn', '<=', shippedOn)
    .orderBy('ratedOn', 'desc')
    .executeTakeFirst();
  if (row !== undefined) return { amount: new Dec(insuredFor).times(row.rate).toNumber(), findings: [] };
  return {
    amount: Infinity,
    findings: [
      {
        code: 'no-exchange-rate',
        level: 'warning',
        path: '/insuredCurrency',
        sentence: `There is no exchange rate of ${insuredCurrency} on or before ${shippedOn}, so that the insured sum cannot be held against the value.`,
      },
    ],
  };
}

/** What a shipment is worth by the last quotations before it went out, and whether it is insured for that. */
export async function worthOfShipment(db: Kysely<Database>, id: string): Promise<Worth> {
  const shipment = await findShipment(db, id);
  const scales = await findMill(db);
  const { currency } = scales;
  const products = await productsWithMetal(db, shipment.productIds, {
    gradesOf: gradesWithin(db, PAGE_WAIT_MS),
    scales,
  });
  const quotations = (await latestQuotations(db, shipment.shippedOn)).filter(
    (one) => one.unit === 'ozt' && one.currency === currency,
  );
  const quoted = (metal: string) => quotations.find((one) => one.metal === metal) ?? null;
  const [gold, silver] = [quoted('Au'), quoted('Ag')];
  const insured = await insuredInMillCurrency(db, shipment, currency);
  const worth = shipmentWorth({
    code: shipment.code,
    products: products.map(({ code, goldG, silverG }) => ({
      code,
      goldG: goldG?.value ?? null,
      silverG: silverG?.value ?? null,
    })),
    priceOzt: {
      Au: gold === null ? null : Number(gold.price),
      Ag: silver === null ? null : Number(silver.price),
    },
    currency,
    insuredFor: insured.amount,
  });
  return {
    currency,
    quotedOn: gold?.quotedOn ?? silver?.quotedOn ?? null,
    value: worth.value,
    products: products.map(({ id: productId, code, goldG, silverG }, at) => ({
      id: productId,
      code,
      goldG,
      silverG,
      value: worth.values[at] ?? null,
    })),
    findings: [...insured.findings, ...worth.findings],
  };
}
