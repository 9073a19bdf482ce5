import type { Reagent } from '../../../api/calc/smelting/reagents.ts';
import { reagentNames } from '../../../api/calc/smelting/reagents.ts';

/** A recipe as an address holds it: `soda ash 60, lead 30`, grams per 100 g. */
export function recipeText(grams: ReadonlyMap<Reagent, string>): string {
  return [...grams].map(([reagent, decimal]) => `${reagent} ${decimal}`).join(', ');
}

/** The recipe that an address holds; what is no reagent with a number is left out. */
export function recipeOfText(text: string): [reagent: Reagent, gramsPerHundredG: string][] {
  return text.split(',').flatMap((part): [Reagent, string][] => {
    const [, name, decimal] = /^\s*(.+?) (\d{1,5}(?:\.\d{1,6})?)\s*$/.exec(part) ?? [];
    const reagent = reagentNames.find((one) => one === name);
    return reagent === undefined || decimal === undefined ? [] : [[reagent, decimal]];
  });
}
