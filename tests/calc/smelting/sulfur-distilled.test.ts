import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { elementFractions } from '../../../api/calc/smelting/minerals.ts';
import { sulfurDistilledFrac } from '../../../api/calc/smelting/sulfur-distilled.ts';
import { arbitraryLot } from './arbitrary-lot.ts';

describe('sulfur given off on heating', () => {
  // Worked by hand from the abridged standard atomic weights of IUPAC 2021: 32.06/119.965 and 16.03/183.511.
  it.each([
    ['pyrite', 0.26724],
    ['chalcopyrite', 0.08735],
    ['pyrrhotite', 0],
    ['galena', 0],
  ] as const)('%s gives off %f of its mass', (mineral, expected) => {
    expect(sulfurDistilledFrac({ minerals: [{ mineral, massFrac: 1 }] })).toBeCloseTo(expected, 5);
  });

  it('never gives off more than half of the sulfur of a lot', () => {
    fc.assert(
      fc.property(arbitraryLot, (minerals) => {
        const sulfurFrac = elementFractions({ minerals }).S ?? 0;
        expect(sulfurDistilledFrac({ minerals })).toBeLessThanOrEqual(sulfurFrac / 2 + 1e-12);
      }),
    );
  });
});
