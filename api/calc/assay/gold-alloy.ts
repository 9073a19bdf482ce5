import { mixtureSpecificGravity } from '../smelting/specific-gravity.ts';

/** Densities of the pure metals, g/ml (*CRC Handbook of Chemistry and Physics*: 19.3 and 10.5). */
const goldDensityGpml = 19.3;
const silverDensityGpml = 10.5;

/**
 * Density of native gold, g/ml, from its fineness, the rest taken for silver and the volumes as adding up:
 * 1/(f/19.3 + (1 − f)/10.5). At 750 parts of gold in 1000 it gives 15.96.
 */
export function nativeGoldDensityGpml(goldFrac: number): number {
  return mixtureSpecificGravity([
    { massFrac: goldFrac, specificGravity: goldDensityGpml },
    { massFrac: 1 - goldFrac, specificGravity: silverDensityGpml },
  ]);
}
