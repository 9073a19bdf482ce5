import type { Kysely } from 'kysely';
import { Problem } from './problem.ts';
import { settle } from './calc/settlement/settle.ts';
import type { PreviousPayment, PriceInput, SettlementInput } from './calc/settlement/input.ts';
import type { MetalTerms } from './calc/terms/metal-terms.ts';
import type { Product } from './schemas/batch.ts';
import type { StatementEntry } from './schemas/statement.ts';
import { findProduct } from '../db/queries/products.ts';
import { quotationSeries } from '../db/queries/quotations.ts';
import { issuedOfProduct, type KeptStatement, type WorkedStatement } from '../db/queries/statements.ts';
import { listPayments } from '../db/queries/statement-payments.ts';
import { findTerms } from '../db/queries/terms.ts';
import type { Database } from '../db/schema.ts';

/** How the quotations call what a contract's price is per. */
const QUOTED_PER: Partial<Record<MetalTerms['price']['unit'], 'ozt' | 't' | 'lb' | 'kg' | 'g'>> = {
  ozt: 'ozt',
  tonne: 't',
  lb: 'lb',
  kg: 'kg',
  g: 'g',
};

/** The price of a metal as it was agreed, or the stored quotations that the contract's period picks from. */
async function priceInput(
  db: Kysely<Database>,
  { metal, price }: MetalTerms,
  currency: string,
  entry: StatementEntry,
): Promise<PriceInput> {
  const forMetal = entry.agreedPrices.filter((one) => one.metal === metal);
  const agreed = forMetal.find((one) => one.option === undefined);
  if (agreed !== undefined) return { metal, price: agreed.price, basis: agreed.basis, quotations: [] };
  if (price.basis.kind === 'fixed' || price.basis.kind === 'by-grade')
    return { metal, price: null, basis: 'fixed in the contract', quotations: [] };
  const unit = QUOTED_PER[price.unit];
  const quotations =
    unit === undefined
      ? []
      : await quotationSeries(db, {
          metal,
          currency: price.currency ?? currency,
          unit,
          to: entry.dates.statementOn,
        });
  if (price.basis.kind === 'quotations') return { metal, price: null, basis: price.basis.source, quotations };
  return {
    metal,
    price: null,
    basis: 'chosen as the contract says',
    quotations,
    options: forMetal.flatMap(({ option, price: entered, basis }) =>
      option === undefined ? [] : [{ option, price: entered, basis }],
    ),
    declaredOption: entry.declaredOptions?.find((one) => one.metal === metal)?.option ?? null,
  };
}

/**
 * Works a statement out from what was entered, the terms, the stored quotations and the statements issued
 * before for the same product, which are taken off. An adjustment is worked as a final settlement anew.
 */
export async function workStatement(db: Kysely<Database>, entry: StatementEntry): Promise<WorkedStatement> {
  const terms = await findTerms(db, entry.termsId);
  const product = await findProduct(db, entry.productId);
  const issued = await issuedOfProduct(db, entry.productId);
  requireStageAfter(entry, issued);
  if (terms.body.material !== 'by-product' && (terms.material === 'dore') !== (product.kind === 'bar'))
    throw new Problem('validation', 'The terms and the product do not go together.', {
      errors: [
        {
          pointer: '/termsId',
          detail: `The terms are for ${terms.material === 'dore' ? 'doré' : 'concentrate'}, but ${product.code} is a ${product.kind}.`,
        },
      ],
    });
  requireAfterMaking(entry, product);
  const prices: PriceInput[] = [];
  for (const metal of terms.body.metals) prices.push(await priceInput(db, metal, terms.body.currency, entry));
  const settlementInput: SettlementInput = {
    terms: terms.body,
    stage: entry.stage === 'adjustment' ? 'final' : entry.stage,
    parcel: entry.parcel,
    assays: entry.assays,
    prices,
    exchangeRates: entry.exchangeRates,
    agreedItems: entry.agreedItems ?? [],
    dates: entry.dates,
    previouslyPaid: await previousPayments(db, issued),
  };
  return {
    input: { entry, settlementInput },
    settlement: settle(settlementInput),
    supersedesId: issued.at(-1)?.id ?? null,
  };
}

/** What was issued before, with the payments that are recorded of it. */
async function previousPayments(
  db: Kysely<Database>,
  issued: readonly KeptStatement[],
): Promise<PreviousPayment[]> {
  const previous: PreviousPayment[] = [];
  for (const statement of issued) {
    const payments = await listPayments(db, statement.id);
    previous.push({
      statementNumber: statement.number ?? '',
      amount: statement.total,
      paidOn: statement.issuedOn,
      payments: payments.map(({ paidOn, countsAs }) => ({ paidOn, amount: countsAs })),
      stage: statement.stage,
    });
  }
  return previous;
}

/** A parcel or bar is not shipped, weighed or melted before it was made: the days choose the price period. */
function requireAfterMaking(entry: StatementEntry, product: Product): void {
  const early = Object.entries(entry.dates).filter(([, day]) => day !== null && day < product.madeOn);
  if (early.length > 0)
    throw new Problem('validation', `A day lies before ${product.code} was made.`, {
      errors: early.map(([field, day]) => ({
        pointer: `/dates/${field}`,
        detail: `${day} lies before ${product.code} was made on ${product.madeOn}.`,
      })),
    });
}

/** Provisional, second provisional, final, then only adjustments. */
function requireStageAfter(entry: StatementEntry, issued: readonly KeptStatement[]): void {
  const stages = issued.map((statement) => statement.stage);
  const settled = stages.includes('final');
  const fault =
    entry.stage === 'adjustment' && !settled
      ? 'is an adjustment, but no final statement has been issued yet: issue the final one first'
      : entry.stage !== 'adjustment' && settled
        ? `is ${entry.stage}, but a final statement has been issued: only an adjustment can follow it`
        : entry.stage === 'provisional' && stages.length > 0
          ? 'is provisional, but a provisional statement has been issued already'
          : entry.stage === 'second-provisional' && !stages.includes('provisional')
            ? 'is a second provisional, but no provisional one has been issued'
            : null;
  if (fault !== null)
    throw new Problem('validation', 'The statement does not follow those issued before.', {
      errors: [{ pointer: '/stage', detail: `Stage ${fault}.` }],
    });
}
