import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { elementFractions } from '../../../api/calc/smelting/minerals.ts';
import { oxygenBalance } from '../../../api/calc/smelting/oxygen-balance.ts';
import { reagentNames } from '../../../api/calc/smelting/reagents.ts';
import type { Recipe } from '../../../api/calc/smelting/recipe-work.ts';
import { workRecipe } from '../../../api/calc/smelting/recipe-work.ts';
import { arbitraryLot } from './arbitrary-lot.ts';

/** An invented concentrate. */
const pyritic: Recipe = {
  minerals: [
    { mineral: 'pyrite', massFrac: 0.5 },
    { mineral: 'quartz', massFrac: 0.5 },
  ],
  lotMassG: 20,
  reagents: {},
  sulfurRoastedFrac: 0,
};
const codes = (recipe: Recipe) => workRecipe(recipe).findings.map((finding) => finding.code);

describe('oxygen balance of a charge', () => {
  // C. and J. J. Beringer, A Text-book of Assaying, 9th ed. 1904: 20 g of ore with 50 % pyrite reduces 110 g of
  // lead from enough litharge; with 20 g of nitre 30 g.
  it('reduces 110 g of lead raw, and 30 g with 20 g of nitre', () => {
    const raw = oxygenBalance({ ...pyritic, reagents: { litharge: 200 } });
    expect(raw.leadReducedG).toBeCloseTo(110, 9);
    const withNitre = oxygenBalance({ ...pyritic, reagents: { litharge: 200, nitre: 20 } });
    expect(withNitre.leadReducedG).toBeCloseTo(30, 9);
    expect(withNitre.sulfidesOxidizedFrac).toBeCloseTo(1, 9);
    expect(withNitre.lithargeToSlagG).toBeCloseTo(200 - 30 / 0.92832, 3);
  });

  it('reduces no more lead than the litharge holds, and leaves the rest of the sulfides', () => {
    const short = oxygenBalance({ ...pyritic, reagents: { litharge: 50 } });
    expect(short.leadReducedG).toBeCloseTo(50 * 0.92832, 3);
    expect(short.lithargeToSlagG).toBeCloseTo(0, 9);
    expect(short.sulfidesOxidizedFrac).toBeCloseTo((50 * 0.92832) / 110, 4);
  });

  it('lets metallic lead oxidize nothing', () => {
    expect(oxygenBalance({ ...pyritic, reagents: { lead: 100 } }).sulfidesOxidizedFrac).toBe(0);
  });

  it('takes lead up with the iron oxide of a calcine, unless flour makes up for it', () => {
    const roasted = { ...pyritic, sulfurRoastedFrac: 1 };
    const dead = oxygenBalance({ ...roasted, reagents: { litharge: 100 } });
    // 10 g of pyrite give 6.656 g of Fe2O3, which takes up 1.2975 g of lead per gram.
    expect(dead.ironOxidesG).toBeCloseTo(6.656 * 1.2975, 2);
    expect(dead.leadReducedG).toBe(0);
    const withFlour = oxygenBalance({ ...roasted, reagents: { litharge: 100, flour: 3 } });
    expect(withFlour.leadReducedG).toBeCloseTo(33.6 - 6.656 * 1.2975, 2);
  });

  it('goes by a measured reducing power where there is one', () => {
    const measured = oxygenBalance({
      ...pyritic,
      reagents: { litharge: 200 },
      measuredReducingPower: 5,
    });
    expect(measured.leadReducedG).toBeCloseTo(100, 9);
  });
});

describe('what a recipe does', () => {
  it('makes matte of the sulfur of a raw charge with metallic lead', () => {
    const work = workRecipe({ ...pyritic, reagents: { lead: 20, 'soda ash': 20 } });
    // 10 g of pyrite hold 5.345 g of sulfur and give off half of it on heating.
    expect(work.sulfurDistilledG).toBeCloseTo(5.345 / 2, 3);
    // It burns to SO2, 64.058/32.06 (IUPAC 2021).
    expect(work.sulfurDioxideG).toBeCloseTo((5.345 / 2) * 1.99807, 2);
    expect(work.matte.sulfurLeftG).toBeCloseTo(5.345 / 2, 3);
    expect(work.findings.map((finding) => finding.code)).toContain('matte-expected');
  });

  it('expects no matte after a dead roast', () => {
    const work = workRecipe({
      ...pyritic,
      sulfurRoastedFrac: 1,
      reagents: { lead: 20, 'soda ash': 20, flour: 1 },
    });
    expect(work.matte.matteG.high).toBeCloseTo(0, 9);
  });

  it('makes lead of galena with iron, and sends part of the iron sulfide to a slag of soda', () => {
    const work = workRecipe({
      minerals: [
        { mineral: 'galena', massFrac: 0.8 },
        { mineral: 'quartz', massFrac: 0.2 },
      ],
      lotMassG: 100,
      reagents: { iron: 25, 'soda ash': 120, silica: 40, lead: 10 },
      sulfurRoastedFrac: 0,
    });
    expect(work.ironNeededG).toBeCloseTo(18.67, 2);
    expect(work.ironSulfideG).toBeCloseTo(29.39, 2);
    // 180 g of quartz and soda at 11 g of FeS for 150 g.
    expect(work.ironSulfideDissolvedG).toBeCloseTo((180 * 11) / 150, 6);
    expect(work.matte.sulfurLeftG).toBeCloseTo(10.72 - 13.2 * 0.3647, 2);
    expect(work.findings.map((finding) => finding.code)).toContain('iron-sulfide-undissolved');
  });

  it('lets iron catch the sulfur that pyrite would give off, as far as there is iron', () => {
    const givenOff = (iron: number) =>
      workRecipe({ ...pyritic, reagents: { lead: 20, iron } }).sulfurDistilledG;
    // 10 g of pyrite take up 4.655 g of iron.
    expect(givenOff(5)).toBe(0);
    expect(givenOff(4.655 / 2)).toBeCloseTo(5.345 / 4, 3);
  });

  it('counts soda that holds sulfate out of the slag', () => {
    const burned: Recipe = {
      ...pyritic,
      reagents: { litharge: 40, nitre: 20, 'soda ash': 20, silica: 2 },
    };
    const degree = workRecipe(burned).silicateDegree ?? 0;
    const allSoda = workRecipe({
      ...burned,
      sulfurRoastedFrac: 1,
      reagents: { ...burned.reagents, nitre: 0 },
    });
    expect(degree).toBeGreaterThan(allSoda.silicateDegree ?? 0);
  });

  it.each([
    ['collector-missing', {}],
    ['nitre-with-reducers', { litharge: 60, nitre: 5, flour: 2 }],
    ['nitre-above-sample', { litharge: 60, nitre: 21 }],
    ['nitre-in-excess', { lead: 20, nitre: 40 }],
    ['iron-short', { lead: 20, iron: 2 }],
    ['button-small', { litharge: 60, nitre: 28 }],
  ] as const)('finds %s', (code, reagents) => {
    expect(codes({ ...pyritic, reagents })).toContain(code);
  });

  it('finds minerals that are missing and speiss that may come', () => {
    const recipe: Recipe = {
      ...pyritic,
      minerals: [{ mineral: 'arsenopyrite', massFrac: 0.3 }],
      reagents: { lead: 20 },
    };
    expect(codes(recipe)).toEqual(expect.arrayContaining(['minerals-incomplete', 'speiss-expected']));
  });

  it('accounts for every gram of sulfur and creates no lead, in any lot with any reagents', () => {
    const reagents = fc.dictionary(
      fc.constantFrom(...reagentNames),
      fc.double({ min: 0, max: 300, noNaN: true }),
    );
    const roasted = fc.double({ min: 0, max: 1, noNaN: true });
    fc.assert(
      fc.property(arbitraryLot, reagents, roasted, (minerals, masses, sulfurRoastedFrac) => {
        const work = workRecipe({ minerals, lotMassG: 100, reagents: masses, sulfurRoastedFrac });
        const sulfurG = 100 * (elementFractions({ minerals }).S ?? 0);
        const { oxygen, matte } = work;
        expect(oxygen.sulfidesOxidizedFrac).toBeGreaterThanOrEqual(sulfurRoastedFrac - 1e-12);
        expect(oxygen.sulfidesOxidizedFrac).toBeLessThanOrEqual(1 + 1e-12);
        const accounted =
          sulfurG * oxygen.sulfidesOxidizedFrac +
          work.ironSulfideDissolvedG * (32.06 / 87.905) +
          work.sulfurDistilledG +
          matte.sulfurLeftG;
        expect(Math.abs(accounted - sulfurG)).toBeLessThan(1e-9);
        expect(matte.findings.map((finding) => finding.code)).not.toContain('sulfur-over-accounted');
        expect(oxygen.leadReducedG).toBeLessThanOrEqual((masses.litharge ?? 0) * 0.92832);
        expect(oxygen.lithargeToSlagG).toBeGreaterThanOrEqual(-1e-9);
      }),
    );
  });
});
