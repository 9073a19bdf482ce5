import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { intoBuckets, ranked } from '../../../api/calc/evidence/ranked.ts';
import { createRandom } from '../../../api/calc/random.ts';

/** Long lists of every kind: even, skewed, with ties, with far outliers, of one value. */
const longList = fc
  .record({
    seed: fc.integer(),
    kind: fc.constantFrom('even', 'skewed', 'ties', 'outlier', 'alike'),
    length: fc.integer({ min: 2000, max: 6000 }),
  })
  .map(({ seed, kind, length }) => {
    const random = createRandom(seed, kind);
    return Float64Array.from({ length }, (_, n) => {
      if (kind === 'alike') return 7;
      if (kind === 'ties') return Math.floor(5 * random.uniform());
      if (kind === 'outlier' && n === 3) return 1e12;
      return kind === 'skewed' ? random.lognormal({ median: 1, sdLog: 3 }) : random.uniform() - 0.5;
    });
  });

describe('values by rank', () => {
  it('are those of the sorted list', () => {
    fc.assert(
      fc.property(longList, fc.array(fc.double({ min: 0, max: 1, noNaN: true })), (values, parts) => {
        const ranks = parts.map((part) => Math.round(part * (values.length - 1)));
        const sorted = values.toSorted();
        expect(ranked(values, ranks)).toEqual(ranks.map((rank) => sorted[rank]));
      }),
      { numRuns: 60 },
    );
  });

  it('leave the list as it was', () => {
    const values = Float64Array.from({ length: 3000 }, createRandom(1).uniform);
    const before = values.slice();
    ranked(values, [0, 1500, 2999]);
    expect(values).toEqual(before);
  });

  it('are sorted at once where there is nothing to part', () => {
    expect(intoBuckets(new Float64Array(3000).fill(2))).toBeNull();
    expect(intoBuckets(Float64Array.of(1, 2, 3))).toBeNull();
    const broken = Float64Array.from({ length: 3000 }, (_, n) => (n === 5 ? Infinity : n));
    expect(intoBuckets(broken)).toBeNull();
    expect(ranked(broken, [2999])).toEqual([Infinity]);
  });
});
