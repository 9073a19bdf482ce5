import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Mineral } from '../../../api/calc/smelting/minerals.ts';
import { elementFractions } from '../../../api/calc/smelting/minerals.ts';
import {
  dullRoastC,
  galenaSulfateChange,
  mineralRoastChange,
  roastChange,
  so2FromSulfur,
} from '../../../api/calc/smelting/roast.ts';
import { celsiusFromFahrenheit } from '../../../api/calc/units.ts';
import { arbitraryLot } from './arbitrary-lot.ts';

const percentChange = (mineral: Mineral) => 100 * mineralRoastChange(mineral).massChangeFrac;

describe('roast to the oxide', () => {
  // Worked by hand from the abridged standard atomic weights of IUPAC 2021.
  it.each([
    ['pyrite', -33.44],
    ['pyrrhotite', -9.17],
    ['chalcopyrite', -13.14],
    ['sphalerite', -16.48],
    ['galena', -6.71],
    ['arsenopyrite', -50.96],
    ['stibnite', -9.47],
    ['chalcocite', -0.04],
    ['magnetite', 3.46],
    ['hematite', 0],
    ['quartz', 0],
  ] satisfies [Mineral, number][])('%s changes its mass by %f %%', (mineral, expected) => {
    expect(percentChange(mineral)).toBeCloseTo(expected, 2);
  });

  it('lets galena gain 26.75 % on its way to the sulfate, with its sulfur kept', () => {
    expect(100 * galenaSulfateChange().massChangeFrac).toBeCloseTo(26.75, 2);
    expect(galenaSulfateChange().sulfurDrivenOffFrac).toBe(0);
  });

  it('takes half of the galena to sulfate where told so', () => {
    const galena = { mineral: 'galena' as const, massFrac: 0.4 };
    const change = roastChange({ minerals: [galena], galenaSulfateFrac: 0.5 });
    expect(change.massChangeFrac).toBeCloseTo(0.2 * -0.06712 + 0.2 * 0.26749, 5);
  });

  // School examination on roasting (published at khoahoc.vn): 12 g of ore with 80 % FeS2 leaves 8.8 g, worked
  // there with whole atomic weights.
  it('leaves 8.8 g of 12 g of ore with 80 % pyrite', () => {
    const change = roastChange({
      minerals: [
        { mineral: 'pyrite', massFrac: 0.8 },
        { mineral: 'quartz', massFrac: 0.2 },
      ],
    });
    expect(12 * (1 + change.massChangeFrac)).toBeCloseTo(8.8, 1);
  });

  // Published exercise (scuolaforum.org): 13.736 g of FeS and FeS2, 10.5 g of it pyrite, roast to 9.917 g of
  // Fe2O3; worked there with Fe 55.8 and four figures.
  it('takes 13.736 g of pyrrhotite and pyrite to 9.917 g of iron oxide', () => {
    const change = roastChange({
      minerals: [
        { mineral: 'pyrrhotite', massFrac: 3.236 / 13.736 },
        { mineral: 'pyrite', massFrac: 10.5 / 13.736 },
      ],
    });
    expect(13.736 * (1 + change.massChangeFrac)).toBeCloseTo(9.917, 1);
  });

  // Published exercise (bystudin.com): 30.69 m³ of SO2 at 22.4 m³/kmol come of 82.2 kg of FeS2.
  it('burns 82.2 kg of pyrite to 1.37 kmol of sulfur dioxide', () => {
    expect((82.2 * mineralRoastChange('pyrite').so2Frac) / 64.058).toBeCloseTo(1.37, 2);
  });

  // Common practice: a mixed concentrate that loses a quarter to a third of its mass is mostly pyrite.
  it('loses a quarter of the mass of a lot that is three quarters pyrite', () => {
    const minerals = [{ mineral: 'pyrite' as const, massFrac: 0.75 }];
    expect(roastChange({ minerals }).massChangeFrac).toBeCloseTo(-0.2508, 4);
  });

  it('sends the arsenic of arsenopyrite off as As2O3, 0.6075 g per gram of mineral', () => {
    // 197.841 / 2 / 162.827, molar masses from the CRC Handbook of Chemistry and Physics (from memory)
    expect(mineralRoastChange('arsenopyrite').arsenicTrioxideFrac).toBeCloseTo(197.841 / 2 / 162.827, 4);
  });

  it('makes 1.998 g of sulfur dioxide of a gram of sulfur', () => {
    expect(so2FromSulfur(1)).toBeCloseTo(1.998, 3);
  });

  it('holds the dull roast between 800 and 1000 °F', () => {
    expect(dullRoastC.low).toBeCloseTo(celsiusFromFahrenheit(800), -1);
    expect(dullRoastC.high).toBeCloseTo(celsiusFromFahrenheit(1000), -1);
  });

  it('drives off all the sulfur and all the arsenic of any lot, and no more', () => {
    fc.assert(
      fc.property(arbitraryLot, (minerals) => {
        const change = roastChange({ minerals });
        const elements = elementFractions({ minerals });
        expect(Math.abs(change.sulfurDrivenOffFrac - (elements.S ?? 0))).toBeLessThan(1e-9);
        expect(
          Math.abs((change.arsenicTrioxideFrac * 2 * 74.922) / 197.841 - (elements.As ?? 0)),
        ).toBeLessThan(1e-9);
        expect(Math.abs(change.so2Frac - so2FromSulfur(change.sulfurDrivenOffFrac))).toBeLessThan(1e-9);
      }),
    );
  });
});
