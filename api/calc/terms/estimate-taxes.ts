import { num } from './estimate-parts.ts';
import type { Terms } from './terms.ts';

/** Taxes of one parcel, fed with its charges as they are worked. */
export interface CompiledTaxes {
  begin: () => void;
  charge: (index: number, amount: number) => void;
  refining: (amount: number) => void;
  /** What the taxes take from the value; below zero where they add to it. */
  due: (of: { payable: number; net: number; charges: number }) => number;
}

/** The taxes that are a gain or a cost: those passed on or claimed back leave the value as it is. */
export function compileTaxes(terms: Terms): CompiledTaxes {
  const taxes = (terms.taxes ?? [])
    .filter((tax) => !tax.isPassedOn)
    .map(({ base, rateFrac, effect }) => {
      const purposes = base.kind === 'charges' ? base.purposes : [];
      return {
        base: base.kind,
        countsAll: purposes.length === 0,
        counts: terms.charges.map(({ purpose }) => purposes.includes(purpose)),
        countsRefining: purposes.includes('refining'),
        rate: num(rateFrac) * (effect === 'added' ? -1 : 1),
        counted: 0,
      };
    });
  return {
    begin: () => {
      for (const tax of taxes) tax.counted = 0;
    },
    charge: (index, amount) => {
      for (const tax of taxes) if (tax.counts[index] === true) tax.counted += amount;
    },
    refining: (amount) => {
      for (const tax of taxes) if (tax.countsRefining) tax.counted += amount;
    },
    due: ({ payable, net, charges }) => {
      let due = 0;
      for (const tax of taxes) {
        const base =
          tax.base === 'payable-value'
            ? payable
            : tax.base === 'net-value'
              ? net
              : tax.countsAll
                ? charges
                : tax.counted;
        due += Math.max(0, base) * tax.rate;
      }
      return due;
    },
  };
}
