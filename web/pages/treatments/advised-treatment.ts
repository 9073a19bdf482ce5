import type { TreatmentKind } from '../../../api/calc/smelting/advised-amount.ts';
import type { Supply } from '../../../api/schemas/supply.ts';
import type { Treatment } from '../../../api/schemas/treatment.ts';
import { isWay } from '../advice/advice-address.ts';
import { ownReagents } from '../advice/own-reagents.ts';
import { recipeOfText } from '../advice/recipe-text.ts';
import { startingPoints, withOwnSupplies } from './starting-points.ts';

/** The starting point that is nearest to a way of smelting, for what a recipe does not say: hours, lead return, recoveries. */
const nearest: Record<TreatmentKind, { point: string; name: string }> = {
  'as it is': { point: 'raw-with-iron', name: 'Smelt as it is' },
  oxidizing: { point: 'with-nitre', name: 'Smelt with nitre' },
  roasted: { point: 'dead-roast', name: 'Roast, then smelt' },
  iron: { point: 'raw-with-iron', name: 'Smelt with iron' },
};

/** What the address of a new treatment brings of a proposed recipe, in the owner's own supplies; null where it brings none. */
export function treatmentFromAdvice(
  asked: { way: string; lot: string; recipe: string },
  supplies: readonly Supply[],
): { treatment: Omit<Treatment, 'id' | 'version'>; missing: string[] } | null {
  const amounts = recipeOfText(asked.recipe);
  if (amounts.length === 0 || !isWay(asked.way)) return null;
  const { point, name } = nearest[asked.way];
  const fields = startingPoints.find(({ key }) => key === point)?.fields;
  if (fields === undefined) return null;
  const own = ownReagents(supplies);
  const missing: string[] = [];
  const recipe = amounts.flatMap(([reagent, gramsPerHundredG]) => {
    const supply = own.get(reagent);
    if (supply === undefined) missing.push(`${gramsPerHundredG} g of ${reagent}`);
    return supply === undefined ? [] : [{ supplyId: supply.id, gramsPerHundredG }];
  });
  const lot = asked.lot.slice(0, 40);
  const description = lot === '' ? '' : `Proposed from the minerals of lot ${lot}.`;
  return withOwnSupplies(
    { fields: { ...fields, description }, name: lot === '' ? name : `${name}, ${lot}`, recipe },
    supplies,
    missing,
  );
}
