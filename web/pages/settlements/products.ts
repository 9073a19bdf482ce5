import type { Batch, Product } from '../../../api/schemas/batch.ts';
import type { StatementSummary } from '../../../api/schemas/statement.ts';
import type { TermsRecord } from '../../../api/schemas/terms-record.ts';

/** A bar or a parcel with the batch it came from. */
export interface Settleable {
  product: Product;
  batch: Batch;
}

/** What can be settled: bars and parcels, newest first. */
export const settleable = (batches: readonly Batch[]): Settleable[] =>
  batches
    .flatMap((batch) => batch.products.map((product) => ({ product, batch })))
    .filter(({ product }) => product.kind === 'bar' || product.kind === 'parcel')
    .toSorted((a, b) => (a.product.madeOn < b.product.madeOn ? 1 : -1));

/** The statements issued for a product, in the order of their numbers. */
export const issuedFor = (statements: readonly StatementSummary[], productId: string): StatementSummary[] =>
  statements.filter((one) => one.productId === productId && one.status === 'issued');

export const fitsProduct = (terms: TermsRecord, product: Product): boolean =>
  terms.material === 'by-product' || (terms.material === 'dore') === (product.kind === 'bar');

/** The terms a product can be settled by: the newest versions of matching contracts, and those it already has. */
export const termsFor = (
  all: readonly TermsRecord[],
  product: Product,
  chosen: readonly string[],
): TermsRecord[] =>
  all.filter((one) => chosen.includes(one.id) || (one.isNewest && fitsProduct(one, product)));
