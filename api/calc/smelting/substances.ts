import type { Formula } from './atomic-weights.ts';
import { molarMass } from './atomic-weights.ts';
import { mineralFormulas } from './minerals.ts';

/** Everything that takes part in a reaction here: minerals by name, the rest by formula. */
export const substances = {
  ...mineralFormulas,
  O2: { O: 2 },
  SO2: { S: 1, O: 2 },
  SO3: { S: 1, O: 3 },
  CO2: { C: 1, O: 2 },
  N2: { N: 2 },
  H2O: { H: 2, O: 1 },
  FeO: { Fe: 1, O: 1 },
  Fe2O3: { Fe: 2, O: 3 },
  Cu2O: { Cu: 2, O: 1 },
  CuO: { Cu: 1, O: 1 },
  ZnO: { Zn: 1, O: 1 },
  PbO: { Pb: 1, O: 1 },
  PbSO4: { Pb: 1, S: 1, O: 4 },
  As2O3: { As: 2, O: 3 },
  As2O5: { As: 2, O: 5 },
  Sb2O3: { Sb: 2, O: 3 },
  Sb2O4: { Sb: 2, O: 4 },
  FeS: { Fe: 1, S: 1 },
  Fe5As2: { Fe: 5, As: 2 },
  Fe: { Fe: 1 },
  Pb: { Pb: 1 },
  Cu: { Cu: 1 },
  Sb: { Sb: 1 },
  S: { S: 1 },
  KNO3: { K: 1, N: 1, O: 3 },
  K2O: { K: 2, O: 1 },
  Na2O: { Na: 2, O: 1 },
  Na2CO3: { Na: 2, C: 1, O: 3 },
  NaHCO3: { Na: 1, H: 1, C: 1, O: 3 },
  CaO: { Ca: 1, O: 1 },
  CaCO3: { Ca: 1, C: 1, O: 3 },
  CaF2: { Ca: 1, F: 2 },
  SiO2: { Si: 1, O: 2 },
  B2O3: { B: 2, O: 3 },
  Na2B4O7: { Na: 2, B: 4, O: 7 },
  /** Borax as bought, Na2B4O7·10H2O. */
  boraxDecahydrate: { Na: 2, B: 4, O: 17, H: 20 },
} as const satisfies Readonly<Record<string, Formula>>;

export type Substance = keyof typeof substances;

/** Molar mass of a substance, g/mol. */
export function molarMassOf(substance: Substance): number {
  return molarMass(substances[substance]);
}
