import type { Kysely } from 'kysely';
import {
  allOrNone,
  batchRecovery,
  explainedDifference,
  metalValueOf,
  type BatchOutcome,
} from './calc/books/batch-result.ts';
import type { BookBatch, BookStatement } from './calc/books/book-records.ts';
import { exchanged, type DatedRate } from './calc/books/exchange.ts';
import type { LotGrades } from './calc/books/mill-account.ts';
import { addDays } from './calc/calendar.ts';
import { METALS, type Metal } from './calc/evidence/lot-evidence.ts';
import { heldBackOf } from './calc/settlement/held-back.ts';
import type { Measured } from './calc/measured.ts';
import { Dec, sumOf } from './calc/money.ts';
import { productMetal, type MillScales } from './calc/production/product-metal.ts';
import { batchForecasts, type BatchForecast } from '../db/queries/batch-forecasts.ts';
import { groupBy } from '../db/queries/group-by.ts';
import { productsOfBatches, type ProductOfBatch } from '../db/queries/mill-state.ts';
import { statementsOfBatches } from '../db/queries/book-sales.ts';
import type { MonthBatch } from '../reports/model/month-input.ts';
import type { StatementStage } from '../reports/model/statement-input.ts';
import type { Database } from '../db/schema.ts';

const UNKNOWN: Record<Metal, null> = { Au: null, Ag: null };
/** Metal made, as against what stays of it in by-products. */
export const MADE: ReadonlySet<string> = new Set(['bar', 'bead', 'button']);

export interface BatchFacts {
  /** By batch; what was settled later than the report is not among them. */
  statements: ReadonlyMap<string, readonly BookStatement[]>;
  grades: LotGrades;
  scales: MillScales;
  currency: string;
  rates: readonly DatedRate[];
  /** Whether bases of forecasts that were not kept are worked anew. */
  workBases: boolean;
}

/** A batch with what it was forecast to bring and what it has shown. */
export interface BatchFigures {
  batch: BookBatch;
  forecast: BatchForecast | null;
  statements: readonly BookStatement[];
  settled: Settled | null;
  outcome: BatchOutcome;
  productCount: number;
}

interface Settled {
  /** What is held back until the final statement in it. */
  total: string;
  heldBack: string;
  stage: StatementStage;
  metalValue: Record<Metal, number>;
}

/**
 * What statements up to a day have brought and what they hold back until the final one, in the mill's currency;
 * null while there is none, or no rate.
 */
function settledOf(statements: readonly BookStatement[], facts: BatchFacts): Settled | null {
  const newest = statements.at(-1);
  if (newest === undefined) return null;
  const told = (one: BookStatement, amount: string) =>
    exchanged({
      amount,
      currency: one.currency,
      on: one.issuedOn,
      millCurrency: facts.currency,
      rates: facts.rates,
    }).amount;
  const newestOfProducts = [...new Map(statements.map((one) => [one.productId, one])).values()];
  const brought = statements.map((one) => told(one, one.brings));
  const held = newestOfProducts.map((one) => {
    const amount = new Dec(heldBackOf(one.settlement));
    return told(one, (one.millSells ? amount : amount.negated()).toFixed());
  });
  if ([...brought, ...held].some((amount) => amount === null)) return null;
  const heldBack = sumOf(held.map((amount) => amount ?? '0'));
  const metalValue = (metal: Metal): number =>
    newestOfProducts.reduce((sum, one) => {
      const value = told(one, new Dec(metalValueOf(one.settlement, metal)).toFixed());
      return sum + Number(value ?? 0) * (one.millSells ? 1 : -1);
    }, 0);
  return {
    total: sumOf(brought.map((amount) => amount ?? '0'))
      .plus(heldBack)
      .toFixed(2),
    heldBack: heldBack.toFixed(2),
    stage: newest.stage,
    metalValue: { Au: metalValue('Au'), Ag: metalValue('Ag') },
  };
}

function outcomeOf(
  batch: BookBatch,
  products: readonly ProductOfBatch[],
  settled: Settled | null,
  { grades, scales }: BatchFacts,
): BatchOutcome {
  const isSale = batch.treatmentId === null;
  const gradeGpt = grades.get(batch.lotId) ?? UNKNOWN;
  const counted = products.filter(({ kind }) => (isSale ? kind === 'parcel' : MADE.has(kind)));
  const out = (metal: Metal): Measured | null =>
    allOrNone(counted.map((product) => productMetal(product, scales, gradeGpt)[metal]));
  const parcels = products.filter(({ kind }) => kind === 'parcel');
  return {
    isSale,
    dryMassKg: Number(batch.dryMassKg),
    lotScaleUncertaintyFrac: Number(scales.lotScaleUncertaintyFrac),
    gradeGpt,
    outG: { Au: out('Au'), Ag: out('Ag') },
    parcelDryKg:
      isSale && parcels.length > 0 ? sumOf(parcels.map(({ leftDryKg }) => leftDryKg)).toNumber() : null,
    cost: Number(batch.cost.total),
    settled: settled && { total: Number(settled.total), metalValue: settled.metalValue },
  };
}

function forecastMeans({ shown, basis }: BatchForecast, dryMassKg: number) {
  const metalPayment = shown.breakdown.find(({ label }) => label === 'Payment for metal')?.amount ?? 0;
  const charges = shown.breakdown.find(({ label }) => label === "Buyer's charges")?.amount ?? 0;
  const all = shown.breakdown.reduce((sum, { amount }) => sum + amount, 0);
  return {
    dryMassKg,
    netValue: shown.netValue.mean,
    payableOzt: { Au: shown.goldPayableOzt.mean, Ag: shown.silverPayableOzt.mean },
    metalPayment,
    cost: metalPayment + charges - all,
    basis,
  };
}

/** What batches were forecast to bring, and what they have shown. */
export async function batchFigures(
  db: Kysely<Database>,
  batches: readonly BookBatch[],
  facts: BatchFacts,
): Promise<BatchFigures[]> {
  const ids = batches.map(({ id }) => id);
  const forecasts = await batchForecasts(db, ids, facts);
  const products = await productsOfBatches(db, ids);
  return batches.map((batch) => {
    const own = facts.statements.get(batch.id) ?? [];
    const settled = settledOf(own, facts);
    return {
      batch,
      forecast: forecasts.get(batch.id) ?? null,
      statements: own,
      settled,
      outcome: outcomeOf(batch, products.get(batch.id) ?? [], settled, facts),
      productCount: products.get(batch.id)?.length ?? 0,
    };
  });
}

/** What a batch brings less what it cost; null while nothing is settled. */
export function actualNetValue({ batch, settled }: BatchFigures): MonthBatch['actualNetValue'] {
  return (
    settled && { amount: new Dec(settled.total).minus(batch.cost.total).toFixed(2), stage: settled.stage }
  );
}

/** Whether a batch was finished in a range of days, or a statement of it issued in it. */
export function countsIn(
  { status, finishedOn, id }: BookBatch,
  { range, issuedOf }: { range: { from: string; to: string }; issuedOf: ReadonlySet<string> },
): { finished: boolean; settled: boolean } {
  const isDone = status === 'done' && finishedOn !== null;
  return {
    finished: isDone && finishedOn >= range.from && finishedOn <= range.to,
    settled: issuedOf.has(id),
  };
}

/** A batch as a report of a range of days tells it. */
export function monthBatch(
  figures: BatchFigures,
  { finished, settled }: { finished: boolean; settled: boolean },
): MonthBatch {
  const { batch, forecast, outcome } = figures;
  const recoveries = batchRecovery(outcome);
  const metals = Object.fromEntries(
    METALS.map((metal) => {
      const basis = outcome.isSale ? null : (forecast?.basis[metal] ?? null);
      return [
        metal,
        {
          ...recoveries[metal],
          forecastRecoveryFrac: basis && { value: basis.recoveryFrac, u: basis.recoverySdFrac },
        },
      ];
    }),
  ) as MonthBatch['metals'];
  return {
    code: batch.code,
    lotCode: batch.lotCode,
    treatment: batch.treatmentName ?? `sold to ${batch.buyerName}`,
    isSale: outcome.isSale,
    dryMassKg: batch.dryMassKg,
    finishedInMonth: finished,
    settledInMonth: settled,
    metals,
    costTotal: batch.cost.total,
    forecastNetValue: forecast && {
      p10: forecast.shown.netValue.p10,
      p50: forecast.shown.netValue.p50,
      p90: forecast.shown.netValue.p90,
    },
    actualNetValue: actualNetValue(figures),
    productCount: figures.productCount,
    split: forecast && explainedDifference(forecastMeans(forecast, Number(batch.dryMassKg)), outcome),
  };
}

/** The batches finished in a range, and those of which a statement was issued in it, with what they have shown. */
export async function monthBatches(
  db: Kysely<Database>,
  batches: readonly BookBatch[],
  facts: Omit<BatchFacts, 'statements'> & {
    range: { from: string; to: string };
    /** Statements issued in the range. */
    issued: readonly BookStatement[];
  },
): Promise<MonthBatch[]> {
  const issuedOf = new Set(facts.issued.map(({ batchId }) => batchId));
  const told = batches.flatMap((batch) => {
    const counts = countsIn(batch, { range: facts.range, issuedOf });
    return counts.finished || counts.settled ? [{ batch, counts }] : [];
  });
  const counted = told.map(({ batch }) => batch);
  const ids = counted.map(({ id }) => id);
  const earlier = await statementsOfBatches(db, ids, addDays(facts.range.from, -1));
  const issued = groupBy(
    facts.issued.filter(({ issuedOn }) => issuedOn <= facts.range.to),
    ({ batchId }) => batchId,
  );
  const statements = new Map(ids.map((id) => [id, [...(earlier.get(id) ?? []), ...(issued.get(id) ?? [])]]));
  const figures = await batchFigures(db, counted, { ...facts, statements });
  return figures.flatMap((one, at) => {
    const counts = told[at]?.counts;
    return counts === undefined ? [] : [monthBatch(one, counts)];
  });
}

/** What the forecasts of the batches finished leave in slag, matte and fume; null where one was not kept. */
export function forecastLossG(batches: readonly MonthBatch[], metal: Metal): Measured | null {
  const losses = batches
    .filter(({ finishedInMonth }) => finishedInMonth)
    .map(({ metals, isSale }): Measured | null => {
      const { inG, forecastRecoveryFrac } = metals[metal];
      if (isSale) return { value: 0, u: 0 };
      if (inG === null || forecastRecoveryFrac === null) return null;
      return { value: inG.value * (1 - forecastRecoveryFrac.value), u: inG.value * forecastRecoveryFrac.u };
    });
  return losses.length === 0 ? { value: 0, u: 0 } : allOrNone(losses);
}
