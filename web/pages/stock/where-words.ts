import type { StockProduct } from '../../../api/schemas/stock.ts';
import type { Formatter } from '../../lib/format.ts';

export const whereWords: Record<StockProduct['where'], string> = {
  'in-stock': 'in stock',
  'under-way': 'under way',
  'at-buyer': 'at the buyer',
  settled: 'settled',
  'worked-up-again': 'worked up again',
  'written-off': 'written off',
};

/** Weighed in grams where it is metal, in the unit of lots otherwise. */
export function productMass(product: Pick<StockProduct, 'kind' | 'leftKg'>, format: Formatter): string {
  return product.kind === 'bar' || product.kind === 'bead'
    ? format.quantity('metalMassG', Number(product.leftKg) * 1000)
    : format.quantity('lotMassKg', Number(product.leftKg));
}
