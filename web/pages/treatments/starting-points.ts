import type { Supply } from '../../../api/schemas/supply.ts';
import type { Treatment } from '../../../api/schemas/treatment.ts';

/** What a recipe asks for, and how it is known among the owner's supplies. */
const ingredients = {
  'soda ash': (supply: Supply) => supply.kind === 'reagent' && /soda/i.test(supply.name),
  borax: (supply: Supply) => supply.kind === 'reagent' && /borax/i.test(supply.name),
  'silica sand': (supply: Supply) => supply.kind === 'reagent' && /silica|sand|quartz/i.test(supply.name),
  nitre: (supply: Supply) =>
    supply.kind === 'reagent' && /\bnitre\b|\bniter\b|saltpet|nitrate/i.test(supply.name),
  flour: (supply: Supply) => supply.kind === 'reagent' && /flour/i.test(supply.name),
  litharge: (supply: Supply) => supply.kind === 'litharge',
  lead: (supply: Supply) => supply.kind === 'lead',
  iron: (supply: Supply) => supply.kind === 'iron',
};
type Ingredient = keyof typeof ingredients;

export interface StartingPoint {
  key: string;
  name: string;
  /** When it is the one to begin with. */
  suits: string;
  recipe: Partial<Record<Ingredient, string>>;
  fields: Omit<
    Treatment,
    | 'id'
    | 'version'
    | 'recipe'
    | 'labourSupplyId'
    | 'fuelSupplyId'
    | 'crucibleSupplyId'
    | 'cupelSupplyId'
    | 'name'
  >;
}

const common = { roastPanKg: null, wasteCostPerKg: '0', daysUntilBar: 10, retired: false } as const;

/**
 * Recipes to begin with, for a sulfide concentrate that is mostly pyrite, in grams per 100 g. Common practice
 * in their order of magnitude, and no more: soda to carry the iron sulfide, iron to take sulfur from lead and
 * silver, nitre for the sulfur it has to burn, litharge and flour for a button of about a third of the charge.
 * Recoveries are rough expectations, wide on purpose, until test smelts narrow them.
 */
export const startingPoints: readonly StartingPoint[] = [
  {
    key: 'raw-with-iron',
    name: 'Smelt raw with iron',
    suits: 'Least work and no roasting fume; some of the silver stays in the matte.',
    recipe: { 'soda ash': '60', borax: '20', 'silica sand': '8', lead: '40', iron: '25' },
    fields: {
      ...common,
      description: 'As it is, basic charge with iron in excess; some matte to be expected.',
      roast: false,
      chargeSizeKg: 10,
      roastHoursPerCharge: 0,
      furnaceHoursPerCharge: 1.5,
      labourHoursPerCharge: 1.5,
      fuelPerCharge: 6,
      crucibleLifeCharges: 8,
      leadReturnLowFrac: 0.7,
      leadReturnModeFrac: 0.82,
      leadReturnHighFrac: 0.92,
      goldRecoveryMeanFrac: 0.82,
      goldRecoverySdFrac: 0.08,
      silverRecoveryMeanFrac: 0.75,
      silverRecoverySdFrac: 0.09,
      doreFinenessFrac: 0.93,
    },
  },
  {
    key: 'with-nitre',
    name: 'Smelt with nitre',
    suits: 'No roasting and little matte, but much nitre; it boils, so charges are small.',
    recipe: { 'soda ash': '45', borax: '25', 'silica sand': '20', nitre: '150', litharge: '80' },
    fields: {
      ...common,
      description:
        'Oxidizing charge: nitre burns the sulfur in the crucible. Work the nitre out for each lot, and charge low.',
      roast: false,
      chargeSizeKg: 4,
      roastHoursPerCharge: 0,
      furnaceHoursPerCharge: 1.5,
      labourHoursPerCharge: 1.5,
      fuelPerCharge: 5,
      crucibleLifeCharges: 6,
      leadReturnLowFrac: 0.7,
      leadReturnModeFrac: 0.8,
      leadReturnHighFrac: 0.9,
      goldRecoveryMeanFrac: 0.9,
      goldRecoverySdFrac: 0.06,
      silverRecoveryMeanFrac: 0.86,
      silverRecoverySdFrac: 0.07,
      doreFinenessFrac: 0.95,
    },
  },
  {
    key: 'dead-roast',
    name: 'Dead roast, then smelt',
    suits: 'Best recovery and little matte; takes hours, and its fume needs a place and a permit.',
    recipe: { 'soda ash': '40', borax: '30', 'silica sand': '18', litharge: '45', flour: '9' },
    fields: {
      ...common,
      description: 'Roasted dull until it no longer smokes, then smelted with borax and litharge.',
      roast: true,
      chargeSizeKg: 10,
      roastHoursPerCharge: 3,
      furnaceHoursPerCharge: 1.3,
      labourHoursPerCharge: 2.5,
      fuelPerCharge: 9,
      crucibleLifeCharges: 10,
      leadReturnLowFrac: 0.84,
      leadReturnModeFrac: 0.92,
      leadReturnHighFrac: 0.97,
      goldRecoveryMeanFrac: 0.94,
      goldRecoverySdFrac: 0.04,
      silverRecoveryMeanFrac: 0.9,
      silverRecoverySdFrac: 0.05,
      doreFinenessFrac: 0.96,
    },
  },
];

/** A starting point in the owner's own supplies; `missing` names what is not among them. */
export function treatmentFrom(
  point: StartingPoint,
  supplies: readonly Supply[],
): { treatment: Omit<Treatment, 'id' | 'version'>; missing: string[] } {
  const missing: string[] = [];
  const recipe: Treatment['recipe'] = [];
  for (const [ingredient, gramsPerHundredG] of Object.entries(point.recipe)) {
    const supply = supplies.find(ingredients[ingredient as Ingredient]);
    if (supply === undefined) missing.push(ingredient);
    else recipe.push({ supplyId: supply.id, gramsPerHundredG });
  }
  return withOwnSupplies({ fields: point.fields, name: point.name, recipe }, supplies, missing);
}

/** Fields of a starting point with a recipe, and the first labour, fuel, crucible and cupel of the mill. */
export function withOwnSupplies(
  { fields, name, recipe }: Pick<StartingPoint, 'fields' | 'name'> & Pick<Treatment, 'recipe'>,
  supplies: readonly Supply[],
  missing: string[],
): { treatment: Omit<Treatment, 'id' | 'version'>; missing: string[] } {
  const firstOf = (kind: Supply['kind']): string | null => {
    const supply = supplies.find((one) => one.kind === kind);
    if (supply === undefined) missing.push(kind);
    return supply?.id ?? null;
  };
  return {
    treatment: {
      ...fields,
      name,
      recipe,
      labourSupplyId: firstOf('labour'),
      fuelSupplyId: firstOf('fuel'),
      crucibleSupplyId: firstOf('crucible'),
      cupelSupplyId: supplies.find(({ kind }) => kind === 'cupel')?.id ?? null,
    },
    missing,
  };
}
