import type { AdvisedAmount } from './advised-amount.ts';
import { wholeG } from './advised-amount.ts';
import type { Reagent } from './reagents.ts';
import { molarMassOf } from './substances.ts';

interface Substitute {
  by: Reagent;
  /** Grams of the substitute that do the work of a gram. */
  factor: number;
  name: string;
}

/** Na2B4O7 + 10 H2O, and Na2CO3 from 2 NaHCO3: water and carbon dioxide leave on heating. */
const substitutes: Readonly<Partial<Record<Reagent, Substitute>>> = {
  'anhydrous borax': {
    by: 'borax',
    factor: molarMassOf('boraxDecahydrate') / molarMassOf('Na2B4O7'),
    name: 'borax crystals',
  },
  borax: {
    by: 'anhydrous borax',
    factor: molarMassOf('Na2B4O7') / molarMassOf('boraxDecahydrate'),
    name: 'fused borax',
  },
  'soda ash': {
    by: 'sodium bicarbonate',
    factor: (2 * molarMassOf('NaHCO3')) / molarMassOf('Na2CO3'),
    name: 'bicarbonate of soda',
  },
};

/**
 * Proposed amounts in the reagents that a mill has: where one is not at hand and another does the same work,
 * that one takes its place, mass × factor, in whole grams. 100 g of fused borax are 190 g of crystals, 100 g of
 * soda ash 159 g of bicarbonate (IUPAC weights). What has no substitute at hand stays as it is.
 */
export function inOwnReagents(amounts: readonly AdvisedAmount[], own: ReadonlySet<Reagent>): AdvisedAmount[] {
  return amounts.map((amount) => {
    const other = own.has(amount.reagent) ? undefined : substitutes[amount.reagent];
    if (other === undefined || !own.has(other.by)) return amount;
    return {
      ...amount,
      reagent: other.by,
      gramsPerHundredG: Math.round(amount.gramsPerHundredG * other.factor),
      why: `${amount.why} As ${other.name}, which you have, instead of ${wholeG(amount.gramsPerHundredG)} of ${amount.reagent}.`,
    };
  });
}
