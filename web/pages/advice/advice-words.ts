import type { AdviceWanted } from '../../../api/calc/smelting/advised-amount.ts';
import { adviceLotMassG } from '../../../api/calc/smelting/advised-amount.ts';
import type { ReagentMasses } from '../../../api/calc/smelting/oxygen-balance.ts';
import type { Reagent } from '../../../api/calc/smelting/reagents.ts';
import type { RecipeWork } from '../../../api/calc/smelting/recipe-work.ts';
import { silicateName } from '../../../api/calc/smelting/slag.ts';
import { fillLimits } from '../../../api/calc/smelting/volume.ts';
import type { Formatter } from '../../lib/format.ts';

export const wayWords: Record<AdviceWanted['treatment'], string> = {
  'as it is': 'as it is',
  oxidizing: 'with an oxidizing charge (nitre)',
  roasted: 'roasted first',
  iron: 'with iron',
};

export const collectorWords: Record<AdviceWanted['collector'], string> = {
  lead: 'lead, as metal',
  litharge: 'litharge, reduced in the charge',
};

export const reagentWord = (reagent: Reagent): string =>
  `${reagent.slice(0, 1).toUpperCase()}${reagent.slice(1)}`;

/** What a recipe does to 100 g of a lot, in one sentence. */
export function effectSentence(
  work: RecipeWork,
  reagents: ReagentMasses,
  lotCode: string,
  format: Formatter,
): string {
  const whole = (massG: number): string => format.number(massG, 0);
  const leadG = (reagents.lead ?? 0) + work.oxygen.leadReducedG;
  const { low, value, high } = work.matte.matteG;
  const matte =
    high < 0.5
      ? 'no matte to speak of'
      : `about ${whole(value)} g of matte (${whole(low)} to ${whole(high)} g)`;
  const slag =
    work.silicateDegree === null
      ? 'no slag'
      : `a slag at a silicate degree of ${format.number(work.silicateDegree, 2)} (${silicateName(work.silicateDegree)})`;
  return `With this recipe 100 g of ${lotCode} get about ${whole(leadG)} g of lead to collect with, and give ${matte} and ${slag}.`;
}

/** Concentrate that fills a crucible to two thirds with a recipe, kg. */
export function mostConcentrateKg(work: RecipeWork, crucibleVolumeMl: number): number {
  const roomMl = crucibleVolumeMl * fillLimits.aim;
  return ((roomMl / work.volume.bulkVolumeMl.value) * adviceLotMassG) / 1000;
}
