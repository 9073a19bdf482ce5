import { kgFromPounds, kilojoulesFromBtu, litresFromUsGallons } from '../units.ts';

/** Heat of burning propane, 21,500 Btu/lb, and its liquid density, 4.24 lb/US gal: trade figures in the United States. */
const btuPerPound = 21_500;
const poundsPerUsGallon = 4.24;

export const propaneMjPerKg = kilojoulesFromBtu(btuPerPound) / kgFromPounds(1) / 1000;
export const propaneKgPerLitre = kgFromPounds(poundsPerUsGallon) / litresFromUsGallons(1);

/** Heat of a quantity of propane, MJ; null where the fuel or its unit is not one that this knows. */
export function propaneHeatMj({
  fuelName,
  unit,
  quantity,
}: {
  fuelName: string;
  unit: string;
  quantity: number;
}): number | null {
  if (!/\bpropane\b/iu.test(fuelName)) return null;
  if (unit === 'kg') return quantity * propaneMjPerKg;
  if (unit === 'L') return quantity * propaneKgPerLitre * propaneMjPerKg;
  return null;
}
