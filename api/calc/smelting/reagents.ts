import type { Substance } from './substances.ts';

export const reagentNames = [
  'borax',
  'anhydrous borax',
  'soda ash',
  'sodium bicarbonate',
  'silica',
  'lime',
  'limestone',
  'fluorspar',
  'nitre',
  'flour',
  'charcoal',
  'litharge',
  'lead',
  'iron',
] as const;

/** A reagent that the smelting arithmetic knows by composition or by working value. */
export type Reagent = (typeof reagentNames)[number];

/**
 * What a reagent is made of; null where it has no formula (flour, charcoal). Borax without more is the
 * crystals as bought, with ten waters; lime is burnt lime.
 */
export const reagentSubstances: Readonly<Record<Reagent, Substance | null>> = {
  borax: 'boraxDecahydrate',
  'anhydrous borax': 'Na2B4O7',
  'soda ash': 'Na2CO3',
  'sodium bicarbonate': 'NaHCO3',
  silica: 'SiO2',
  lime: 'CaO',
  limestone: 'CaCO3',
  fluorspar: 'CaF2',
  nitre: 'KNO3',
  flour: null,
  charcoal: null,
  litharge: 'PbO',
  lead: 'Pb',
  iron: 'Fe',
};

/** Other names in use, in lower case, besides the name itself. */
const otherNames: Readonly<Record<Reagent, readonly string[]>> = {
  borax: ['borax decahydrate', 'borax crystals', 'hydrated borax'],
  'anhydrous borax': ['borax glass', 'fused borax', 'borax anhydrous', 'dehydrated borax'],
  'soda ash': ['soda', 'sodium carbonate', 'dense soda ash', 'light soda ash'],
  'sodium bicarbonate': ['bicarbonate of soda', 'baking soda', 'bicarbonate'],
  silica: ['silica sand', 'quartz sand', 'silica flour', 'quartz'],
  lime: ['burnt lime', 'quicklime', 'calcium oxide'],
  limestone: ['calcium carbonate', 'chalk', 'marble', 'calcite'],
  fluorspar: ['fluorite', 'fluor', 'calcium fluoride'],
  nitre: ['niter', 'potassium nitrate', 'saltpetre', 'saltpeter'],
  flour: ['wheat flour'],
  charcoal: ['charcoal powder', 'powdered charcoal'],
  litharge: ['lead oxide', 'lead monoxide', 'lead(ii) oxide'],
  lead: [
    'collector lead',
    'lead shot',
    'test lead',
    'granulated lead',
    'sheet lead',
    'lead sheet',
    'lead bar',
  ],
  iron: ['iron rod', 'iron nails', 'nails', 'iron nail', 'scrap iron', 'steel', 'rebar', 'iron filings'],
};

/**
 * Reagent meant by the name that an owner gave a supply; null where the name is none of those known, so that
 * nothing is taken for what it is not. Case, surrounding blanks and anything after a comma or in brackets at
 * the end ("Nitre, technical") do not count.
 */
export function reagentByName(supplyName: string): Reagent | null {
  const plain = supplyName
    .toLowerCase()
    .replace(/,.*$|\s\(.*\)\s*$/u, '')
    .replace(/\s+/gu, ' ')
    .trim();
  return reagentNames.find((reagent) => reagent === plain || otherNames[reagent].includes(plain)) ?? null;
}
