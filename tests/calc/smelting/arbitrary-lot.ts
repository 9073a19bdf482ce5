import fc from 'fast-check';
import type { Mineral, MineralShare } from '../../../api/calc/smelting/minerals.ts';
import { mineralFormulas } from '../../../api/calc/smelting/minerals.ts';

export const allMinerals = Object.keys(mineralFormulas) as Mineral[];

/** Any lot: each mineral at most once, together at most 99 % of the mass. */
export const arbitraryLot: fc.Arbitrary<MineralShare[]> = fc.uniqueArray(
  fc.record({
    mineral: fc.constantFrom(...allMinerals),
    massFrac: fc.double({ min: 0.0001, max: 0.09, noNaN: true }),
  }),
  { selector: (share) => share.mineral, minLength: 1 },
);
