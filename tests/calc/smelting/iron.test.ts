import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ironForLot, ironReactionYield, ironSulfideDissolvedG } from '../../../api/calc/smelting/iron.ts';
import { elementFractions } from '../../../api/calc/smelting/minerals.ts';
import { arbitraryLot } from './arbitrary-lot.ts';

describe('iron', () => {
  // Worked by hand from the abridged standard atomic weights of IUPAC 2021.
  it.each([
    ['pyrite', 0.4655],
    ['galena', 0.2334],
    ['chalcocite', 0.3509],
    ['stibnite', 0.4932],
    ['chalcopyrite', 0.3043],
    ['arsenopyrite', 0.8574],
    ['hematite', 0.3497],
    ['pyrrhotite', 0],
    ['sphalerite', 0],
    ['quartz', 0],
  ] as const)('%s takes %f g per gram', (mineral, expected) => {
    expect(ironReactionYield(mineral, 'Fe')).toBeCloseTo(expected, 4);
  });

  it('binds each gram of sulfur of galena with 1.742 g of iron', () => {
    const sulfurFrac = elementFractions({ minerals: [{ mineral: 'galena', massFrac: 1 }] }).S ?? 0;
    expect(ironReactionYield('galena', 'Fe') / sulfurFrac).toBeCloseTo(1.742, 3);
  });

  // C. and J. J. Beringer, A Text-book of Assaying, 9th ed. 1904: galena with 73.3 % Pb by wet assay gave 70.0
  // and 70.4 % with an iron rod; the reaction complete sets all of it free.
  it('sets free at least the lead that an assay with an iron rod gave', () => {
    const galenaFrac = 0.733 / 0.866;
    const { leadSetFreeG } = ironForLot({
      minerals: [{ mineral: 'galena', massFrac: galenaFrac }],
      lotMassG: 100,
    });
    expect(leadSetFreeG).toBeCloseTo(73.3, 1);
    expect(leadSetFreeG).toBeGreaterThan(70.4);
  });

  it('charges a quarter over, to be taken out again', () => {
    const iron = ironForLot({ minerals: [{ mineral: 'pyrite', massFrac: 0.5 }], lotMassG: 200 });
    expect(iron.reactingG).toBeCloseTo(46.55, 2);
    expect(iron.toChargeG).toBeCloseTo(46.55 * 1.25, 2);
    expect(iron.surplusG).toBeCloseTo(46.55 * 0.25, 2);
    expect(iron.ironSulfideG).toBeCloseTo(146.55, 2);
  });

  // Beringer, op. cit.: a slag of 50 g of quartz and 100 g of soda dissolves 10 to 12 g of FeS.
  it('lets a slag of 50 g quartz and 100 g soda dissolve 10 to 12 g of iron sulfide', () => {
    const dissolved = ironSulfideDissolvedG({ quartzG: 50, sodaAshG: 100 });
    expect(dissolved.low).toBeCloseTo(10, 12);
    expect(dissolved.high).toBeCloseTo(12, 12);
  });

  it('turns all the sulfur of any lot but that of sphalerite into iron sulfide', () => {
    fc.assert(
      fc.property(arbitraryLot, (minerals) => {
        const { ironSulfideG } = ironForLot({ minerals, lotMassG: 100 });
        const sulfurFrac = elementFractions({
          minerals: minerals.filter((one) => one.mineral !== 'sphalerite'),
        }).S;
        expect(Math.abs((ironSulfideG * 32.06) / 87.905 - 100 * (sulfurFrac ?? 0))).toBeLessThan(1e-9);
      }),
    );
  });
});
