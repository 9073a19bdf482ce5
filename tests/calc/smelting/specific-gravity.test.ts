import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  lotSpecificGravity,
  mineralSpecificGravities,
  mixtureSpecificGravity,
} from '../../../api/calc/smelting/specific-gravity.ts';
import { arbitraryLot } from './arbitrary-lot.ts';

describe('specific gravity', () => {
  // C. and J. J. Beringer, A Text-book of Assaying, 9th ed. 1904: heavy 5.1, light 2.6, mixture 3.0; 27.2 % heavy.
  it('mixes 27.2 % of a heavy mineral with a light one to 3.0', () => {
    const mixed = mixtureSpecificGravity([
      { massFrac: 0.272, specificGravity: 5.1 },
      { massFrac: 0.728, specificGravity: 2.6 },
    ]);
    expect(mixed).toBeCloseTo(3.0, 3);
  });

  it('takes for quartz what the minerals leave', () => {
    const half = lotSpecificGravity({ minerals: [{ mineral: 'galena', massFrac: 0.5 }] });
    expect(half).toBeCloseTo(1 / (0.5 / 7.5 + 0.5 / 2.65), 12);
    expect(lotSpecificGravity({ minerals: [] })).toBeCloseTo(2.65, 12);
  });

  // Published tables of mineral densities: pyrite 5.0, galena 7.5, hematite 5.26, magnetite 5.2, quartz 2.65.
  it.each([
    ['pyrite', 5.0],
    ['galena', 7.5],
    ['hematite', 5.26],
    ['magnetite', 5.2],
    ['quartz', 2.65],
  ] as const)('%s is about %f', (mineral, expected) => {
    expect(mineralSpecificGravities[mineral]).toBeCloseTo(expected, 1);
  });

  it('lies between quartz and galena for any lot', () => {
    fc.assert(
      fc.property(arbitraryLot, (minerals) => {
        const specificGravity = lotSpecificGravity({ minerals });
        expect(specificGravity).toBeGreaterThanOrEqual(2.65 - 1e-9);
        expect(specificGravity).toBeLessThanOrEqual(7.5);
      }),
    );
  });
});
