import { Dec } from '../money.ts';
import type { MetalTerms, PriceBasis, QuotedBasis } from './metal-terms.ts';
import type { Terms } from './terms.ts';

/** The quotations that a price is taken from; none where the contract itself fixes it. */
export function quotedBases(basis: PriceBasis): QuotedBasis[] {
  switch (basis.kind) {
    case 'fixed':
    case 'by-grade':
      return [];
    case 'quotations':
      return [basis];
    case 'choice':
      return basis.options;
  }
}

/** Whether the price is only known from quotations, or from what is agreed in their place. */
export const isQuoted = ({ kind }: PriceBasis): boolean => kind === 'quotations' || kind === 'choice';

/** The assay below which nothing is paid for a metal: the contract's own, and the first step of a price by grade. */
export function leastGradePaid({ minimumGrade, price }: MetalTerms): string | null {
  const first = price.basis.kind === 'by-grade' ? price.basis.steps[0]?.fromGrade : undefined;
  if (first === undefined) return minimumGrade;
  return minimumGrade === null || new Dec(first).gt(minimumGrade) ? first : minimumGrade;
}

/** Metals whose price goes by their own assay. */
export const pricedByGrade = ({ metals }: Terms): string[] =>
  metals.filter(({ price }) => price.basis.kind === 'by-grade').map(({ metal }) => metal);
