import type { Formula } from './atomic-weights.ts';
import { atomicWeights, atomsOf, molarMass } from './atomic-weights.ts';

export type Mineral =
  | 'pyrite'
  | 'pyrrhotite'
  | 'chalcopyrite'
  | 'galena'
  | 'sphalerite'
  | 'arsenopyrite'
  | 'stibnite'
  | 'chalcocite'
  | 'magnetite'
  | 'hematite'
  | 'quartz';

/** One mineral of a lot with its share of the dry mass, 0..1. */
export interface MineralShare {
  mineral: Mineral;
  massFrac: number;
}

/**
 * Ideal formulas. Natural pyrrhotite is short of iron (Fe₀.₈₃₋₁S) and natural sphalerite carries iron in
 * place of some zinc: both are reckoned as the ideal compound, which leaves a few percent of their mass in doubt.
 */
export const mineralFormulas: Readonly<Record<Mineral, Formula>> = {
  pyrite: { Fe: 1, S: 2 },
  pyrrhotite: { Fe: 1, S: 1 },
  chalcopyrite: { Cu: 1, Fe: 1, S: 2 },
  galena: { Pb: 1, S: 1 },
  sphalerite: { Zn: 1, S: 1 },
  arsenopyrite: { Fe: 1, As: 1, S: 1 },
  stibnite: { Sb: 2, S: 3 },
  chalcocite: { Cu: 2, S: 1 },
  magnetite: { Fe: 3, O: 4 },
  hematite: { Fe: 2, O: 3 },
  quartz: { Si: 1, O: 2 },
};

/**
 * Share of each element in the mass of a lot, 0..1, from its minerals:
 * w(element) = Σ massFrac × atoms × atomic weight / molar mass. Elements that no mineral holds are absent.
 * What the minerals leave of the lot counts as holding nothing: with minerals given for 80 % of the mass, the
 * fractions add up to 0.8. Half pyrite, half quartz gives S 0.2672.
 */
export function elementFractions({
  minerals,
}: {
  minerals: readonly MineralShare[];
}): Record<string, number> {
  const fractions: Record<string, number> = {};
  for (const { mineral, massFrac } of minerals) {
    const formula = mineralFormulas[mineral];
    for (const [element, atoms] of atomsOf(formula)) {
      const share = (massFrac * atoms * atomicWeights[element]) / molarMass(formula);
      fractions[element] = (fractions[element] ?? 0) + share;
    }
  }
  return fractions;
}
