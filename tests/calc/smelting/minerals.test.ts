import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { molarMass } from '../../../api/calc/smelting/atomic-weights.ts';
import type { Mineral } from '../../../api/calc/smelting/minerals.ts';
import { elementFractions, mineralFormulas } from '../../../api/calc/smelting/minerals.ts';
import { mineralNames } from '../../../api/schemas/lot.ts';

const minerals = Object.keys(mineralFormulas) as Mineral[];

describe('minerals', () => {
  it('knows exactly the minerals that a lot may name', () => {
    expect(minerals.toSorted()).toEqual([...mineralNames].toSorted());
  });

  // D. Barthelmy, Mineralogy Database (webmineral.com), composition from the ideal formula: from memory,
  // to 0.1 %; the same figures stand in most tables of mineral compositions.
  it.each([
    ['pyrite', 'S', 0.5345],
    ['pyrite', 'Fe', 0.4655],
    ['chalcopyrite', 'Cu', 0.3463],
    ['chalcopyrite', 'S', 0.3494],
    ['galena', 'Pb', 0.866],
    ['sphalerite', 'Zn', 0.671],
    ['arsenopyrite', 'As', 0.4601],
    ['arsenopyrite', 'S', 0.1969],
    ['stibnite', 'Sb', 0.7168],
    ['chalcocite', 'Cu', 0.7985],
    ['magnetite', 'Fe', 0.7236],
    ['hematite', 'Fe', 0.6994],
    ['quartz', 'Si', 0.4674],
  ] as const)('%s holds of %s %f', (mineral, element, expected) => {
    const fractions = elementFractions({ minerals: [{ mineral, massFrac: 1 }] });
    expect(fractions[element]).toBeCloseTo(expected, 3);
  });

  // C. and J. J. Beringer, A Text-book of Assaying, 9th ed. 1904, on sulfur: by theory 53.3 % in pyrites, 19.6 % in
  // mispickel (found 53.0 in crystallized pyrites); V. Villavecchia, Treatise on Applied Analytical Chemistry, vol. 1:
  // pyrites 53.33 % S and 46.67 % Fe, chalcopyrite 30.54 % Fe; with the atomic weights of the time.
  it.each([
    ['pyrite', 'S', 0.5333],
    ['pyrite', 'Fe', 0.4667],
    ['arsenopyrite', 'S', 0.196],
    ['chalcopyrite', 'Fe', 0.3054],
  ] as const)('%s holds of %s the printed %f', (mineral, element, printed) => {
    const fractions = elementFractions({ minerals: [{ mineral, massFrac: 1 }] });
    expect(Math.abs((fractions[element] ?? 0) - printed)).toBeLessThan(0.0015);
  });

  it('adds an element up over the minerals that hold it, and says nothing of absent ones', () => {
    const fractions = elementFractions({
      minerals: [
        { mineral: 'pyrite', massFrac: 0.5 },
        { mineral: 'galena', massFrac: 0.2 },
        { mineral: 'quartz', massFrac: 0.1 },
      ],
    });
    expect(fractions.S).toBeCloseTo((0.5 * 64.12) / 119.965 + (0.2 * 32.06) / 239.26, 12);
    expect(fractions.As).toBeUndefined();
  });

  it('accounts for the whole of the mass that is named', () => {
    const mixture = fc.uniqueArray(
      fc.record({
        mineral: fc.constantFrom(...minerals),
        massFrac: fc.double({ min: 0, max: 0.09, noNaN: true }),
      }),
      { selector: (share) => share.mineral },
    );
    fc.assert(
      fc.property(mixture, (shares) => {
        const named = shares.reduce((total, share) => total + share.massFrac, 0);
        const found = Object.values(elementFractions({ minerals: shares })).reduce((a, b) => a + b, 0);
        expect(Math.abs(found - named)).toBeLessThan(1e-9);
      }),
    );
  });

  it('weighs a mole of pyrite as 119.965 g (Fe 55.845, S 32.06: IUPAC 2021)', () => {
    expect(molarMass(mineralFormulas.pyrite)).toBeCloseTo(119.965, 9);
  });
});
