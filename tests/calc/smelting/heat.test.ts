import { describe, expect, it } from 'vitest';
import { heatToMeltMj, meltingPointsC } from '../../../api/calc/smelting/melting.ts';
import { propaneHeatMj, propaneKgPerLitre, propaneMjPerKg } from '../../../api/calc/smelting/propane.ts';
import { btuFromKilojoules, litresFromUsGallons } from '../../../api/calc/units.ts';

describe('heat', () => {
  // ITS-90: silver 961.78, gold 1064.18 °C; CRC Handbook of Chemistry and Physics: lead 327.46 °C.
  it('holds the melting points', () => {
    expect(meltingPointsC).toEqual({ lead: 327.46, silver: 961.78, gold: 1064.18 });
  });

  // Trade figures for propane: 91,300 to 91,500 Btu per US gallon beside 21,500 Btu/lb and 4.24 lb per US gallon.
  it('gives a gallon of propane the heat that the trade does, within half a percent', () => {
    const gallonMj = propaneHeatMj({ fuelName: 'Propane', unit: 'L', quantity: litresFromUsGallons(1) }) ?? 0;
    const gallonBtu = btuFromKilojoules(gallonMj * 1000);
    expect(Math.abs(gallonBtu / 91_400 - 1)).toBeLessThan(0.005);
  });

  // NIST Chemistry WebBook (from memory): propane, gross heat of combustion 2,220 kJ/mol over 44.096 g/mol.
  it('agrees with the gross heat of combustion of propane', () => {
    expect(Math.abs(propaneMjPerKg / (2220 / 44.096) - 1)).toBeLessThan(0.01);
    expect(propaneKgPerLitre).toBeCloseTo(0.508, 3);
  });

  it('knows no other fuel and no other unit', () => {
    expect(propaneHeatMj({ fuelName: 'Charcoal', unit: 'kg', quantity: 1 })).toBeNull();
    expect(propaneHeatMj({ fuelName: 'Propane', unit: 'each', quantity: 1 })).toBeNull();
  });

  // By hand: 1 kg of lead from 20 to 1050 °C: 0.129 × 1030 + 23 = 155.9 kJ.
  it('adds up what a charge takes up', () => {
    expect(heatToMeltMj({ leadKg: 1, otherKg: 0 })).toBeCloseTo(0.1559, 4);
    expect(heatToMeltMj({ leadKg: 0, otherKg: 1 })).toBeCloseTo(1.43, 6);
  });
});
