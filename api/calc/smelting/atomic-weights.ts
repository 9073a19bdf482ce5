/**
 * Abridged standard atomic weights, g/mol: IUPAC Commission on Isotopic Abundances and Atomic Weights,
 * "Standard atomic weights of the elements 2021 (IUPAC Technical Report)", Pure Appl. Chem. 94 (2022)
 * 573-600, table of abridged values. The abridged values are good to about five figures, far beyond what
 * weighing a charge asks for.
 */
export const atomicWeights = {
  H: 1.008,
  B: 10.81,
  C: 12.011,
  N: 14.007,
  O: 15.999,
  F: 18.998,
  Na: 22.99,
  Mg: 24.305,
  Al: 26.982,
  Si: 28.085,
  S: 32.06,
  K: 39.098,
  Ca: 40.078,
  Fe: 55.845,
  Cu: 63.546,
  Zn: 65.38,
  As: 74.922,
  Ag: 107.87,
  Sb: 121.76,
  Au: 196.97,
  Hg: 200.59,
  Pb: 207.2,
  Bi: 208.98,
} as const;

export type ChemicalElement = keyof typeof atomicWeights;

/** Atoms of each element in one formula unit. */
export type Formula = Readonly<Partial<Record<ChemicalElement, number>>>;

/** The elements of a formula with their number of atoms. */
export function atomsOf(formula: Formula): [ChemicalElement, number][] {
  return Object.entries(formula) as [ChemicalElement, number][];
}

/** Molar mass, g/mol: Σ atoms × atomic weight. FeS2 is 119.965. */
export function molarMass(formula: Formula): number {
  return atomsOf(formula).reduce((total, [element, atoms]) => total + atoms * atomicWeights[element], 0);
}

/** Share of an element in the mass of a compound, 0..1: atoms × atomic weight / molar mass. */
export function elementFrac({ formula, element }: { formula: Formula; element: ChemicalElement }): number {
  return ((formula[element] ?? 0) * atomicWeights[element]) / molarMass(formula);
}
