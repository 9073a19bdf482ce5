import type { Formula } from './atomic-weights.ts';
import { elementFrac } from './atomic-weights.ts';
import type { MineralShare } from './minerals.ts';
import { mineralFormulas } from './minerals.ts';
import type { Amounts } from './reaction.ts';
import { entriesOf } from './reaction.ts';
import type { Reagent } from './reagents.ts';
import { reagentSubstances } from './reagents.ts';
import { molarMassOf, substances } from './substances.ts';

export type SlagOxide = 'SiO2' | 'B2O3' | 'FeO' | 'CaO' | 'Na2O' | 'K2O' | 'PbO' | 'ZnO' | 'Cu2O';

/** A mass of a reagent or of an oxide that goes to the slag. Litharge: only what is not reduced to lead. */
export interface SlagPart {
  material: Reagent | SlagOxide;
  massG: number;
}

/** Oxygen in acids and in bases, mol. */
export interface SlagOxygen {
  acid: number;
  base: number;
}

/**
 * Oxides that a mole of a reagent brings to the slag. Borax counts by its B2O3 as acid and by its Na2O as
 * base; fluorspar thins the slag without counting; flour and charcoal burn, lead and iron stay metal.
 */
const oxidesOfReagent: Readonly<Record<Reagent, Amounts>> = {
  borax: { Na2O: 1, B2O3: 2 },
  'anhydrous borax': { Na2O: 1, B2O3: 2 },
  'soda ash': { Na2O: 1 },
  'sodium bicarbonate': { Na2O: 0.5 },
  silica: { SiO2: 1 },
  lime: { CaO: 1 },
  limestone: { CaO: 1 },
  fluorspar: {},
  nitre: { K2O: 0.5 },
  flour: {},
  charcoal: {},
  litharge: { PbO: 1 },
  lead: {},
  iron: {},
};

const isReagent = (material: Reagent | SlagOxide): material is Reagent => material in oxidesOfReagent;

/** Oxygen in acids (silica, B2O3) and in bases (all other oxides) that a gram of a material brings, mol. */
export function slagOxygenPerGram(material: Reagent | SlagOxide): SlagOxygen {
  const substance = isReagent(material) ? reagentSubstances[material] : material;
  if (substance === null) return { acid: 0, base: 0 };
  const oxides = isReagent(material) ? oxidesOfReagent[material] : { [material]: 1 };
  const oxygen: SlagOxygen = { acid: 0, base: 0 };
  for (const [oxide, moles] of entriesOf(oxides)) {
    const formula: Formula = substances[oxide];
    const side = oxide === 'SiO2' || oxide === 'B2O3' ? 'acid' : 'base';
    oxygen[side] += (moles * (formula.O ?? 0)) / molarMassOf(substance);
  }
  return oxygen;
}

/**
 * Oxides that a mass of lot brings to the slag. Quartz and iron oxides all go there, iron as FeO; of the
 * sulfides only the share that has been oxidized, by roast or nitre: iron as FeO, zinc as ZnO, copper as
 * Cu2O. Lead, arsenic and antimony are left out: they go to metal, fume or speiss for the most part.
 */
export function slagPartsOfLot({
  minerals,
  lotMassG,
  sulfidesOxidizedFrac,
}: {
  minerals: readonly MineralShare[];
  lotMassG: number;
  sulfidesOxidizedFrac: number;
}): SlagPart[] {
  const oxides = [
    ['Fe', 'FeO'],
    ['Zn', 'ZnO'],
    ['Cu', 'Cu2O'],
    ['Si', 'SiO2'],
  ] as const;
  return oxides.flatMap(([element, oxide]) => {
    const elementG = minerals.reduce((sum, { mineral, massFrac }) => {
      const formula = mineralFormulas[mineral];
      const share = 'S' in formula ? sulfidesOxidizedFrac : 1;
      return sum + lotMassG * massFrac * share * elementFrac({ formula, element });
    }, 0);
    const massG = elementG / elementFrac({ formula: substances[oxide], element });
    return massG > 0 ? [{ material: oxide, massG }] : [];
  });
}
