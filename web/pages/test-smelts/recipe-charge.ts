import { Dec } from '../../../api/calc/money.ts';
import { weighOut, roundingToStep } from '../../../api/calc/smelting/charge-masses.ts';
import type { Supply } from '../../../api/schemas/supply.ts';
import type { Treatment } from '../../../api/schemas/treatment.ts';

/** What a treatment's recipe asks for with a sample of some mass, g as decimal texts. */
export interface RecipeCharge {
  reagents: { supplyId: string; massG: string }[];
  /** Null where the recipe has none. */
  collectorLeadG: string | null;
  ironInG: string | null;
}

/** The recipe for one test smelt, each mass to the step of the balance; lead and iron have fields of their own. */
export function recipeCharge({
  treatment,
  supplies,
  sampleMassG,
  stepG,
}: {
  treatment: Pick<Treatment, 'recipe'>;
  supplies: readonly Pick<Supply, 'id' | 'kind'>[];
  sampleMassG: string;
  stepG: string;
}): RecipeCharge {
  const kindOf = (id: string) => supplies.find((supply) => supply.id === id)?.kind;
  const masses = treatment.recipe.map(({ supplyId, gramsPerHundredG }) => ({
    supplyId,
    kind: kindOf(supplyId),
    mass: weighOut({
      groups: [{ count: 1, concentrateG: new Dec(sampleMassG) }],
      gramsPerHundredG,
      rounding: roundingToStep(stepG),
    }).totalG,
  }));
  const total = (kind: Supply['kind']): string | null => {
    const found = masses.filter((one) => one.kind === kind);
    return found.length === 0 ? null : found.reduce((sum, one) => sum.plus(one.mass), new Dec(0)).toFixed();
  };
  return {
    reagents: masses
      .filter((one) => one.kind !== 'lead' && one.kind !== 'iron')
      .map(({ supplyId, mass }) => ({ supplyId, massG: mass.toFixed() })),
    collectorLeadG: total('lead'),
    ironInG: total('iron'),
  };
}
