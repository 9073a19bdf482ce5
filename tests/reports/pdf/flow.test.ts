import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { flow, type Piece } from '../../../reports/pdf/flow.ts';

interface Placed {
  index: number;
  page: number;
  topPt: number;
}

const TOP = 50;
const BOTTOM = 450;
const REPEATED = 20;

function place(sizes: { heightPt: number; gapBeforePt: number; keepWithNext: boolean; headed: boolean }[]): {
  placed: Placed[];
  repeatedOn: number[];
} {
  let page = 1;
  const placed: Placed[] = [];
  const repeatedOn: number[] = [];
  const pieces = sizes.map(({ headed, ...size }, index): Piece => ({
    ...size,
    ...(headed ? { repeated: { heightPt: REPEATED, paint: () => repeatedOn.push(page) } } : {}),
    paint: (topPt) => placed.push({ index, page, topPt }),
  }));
  flow({ pieces, firstTopPt: TOP + 6, topPt: TOP, bottomPt: BOTTOM, newPage: () => (page += 1) });
  return { placed, repeatedOn };
}

const size = fc.record({
  heightPt: fc.integer({ min: 5, max: 90 }),
  gapBeforePt: fc.integer({ min: 0, max: 20 }),
  keepWithNext: fc.boolean(),
  headed: fc.boolean(),
});

describe('flow', () => {
  it('places every piece once, in order, between top and bottom, none over another', () => {
    fc.assert(
      fc.property(fc.array(size, { maxLength: 60 }), (sizes) => {
        const { placed } = place(sizes);
        expect(placed.map(({ index }) => index)).toEqual(sizes.map((_, index) => index));
        placed.forEach(({ index, page, topPt }, at) => {
          expect(topPt).toBeGreaterThanOrEqual(TOP);
          expect(topPt + (sizes[index]?.heightPt ?? 0)).toBeLessThanOrEqual(BOTTOM + 0.01);
          const before = placed[at - 1];
          if (before === undefined) return;
          expect(page).toBeGreaterThanOrEqual(before.page);
          if (page === before.page) {
            expect(topPt).toBeGreaterThanOrEqual(before.topPt + (sizes[before.index]?.heightPt ?? 0));
          }
        });
      }),
    );
  });

  it('never parts pieces that belong together when they fit a page', () => {
    fc.assert(
      fc.property(fc.array(size, { maxLength: 60 }), (sizes) => {
        const chained = sizes.map((each, index) => ({
          ...each,
          keepWithNext: each.keepWithNext && index % 3 !== 2,
        }));
        const { placed } = place(chained);
        chained.forEach((each, index) => {
          if (!each.keepWithNext || index === chained.length - 1) return;
          expect(placed[index + 1]?.page).toBe(placed[index]?.page);
        });
      }),
    );
  });

  it('repeats a head on every page that one of its rows opens, and on no other', () => {
    const rows = Array.from({ length: 50 }, () => ({
      heightPt: 20,
      gapBeforePt: 0,
      keepWithNext: false,
      headed: true,
    }));
    const { placed, repeatedOn } = place(rows);
    expect(placed.at(-1)?.page).toBe(3);
    expect(repeatedOn).toEqual([2, 3]);
  });

  it('parts a group that is higher than a page rather than run off it', () => {
    const rows = Array.from({ length: 30 }, () => ({
      heightPt: 30,
      gapBeforePt: 0,
      keepWithNext: true,
      headed: false,
    }));
    const { placed } = place(rows);
    expect(placed).toHaveLength(30);
    expect(placed.at(-1)?.page).toBe(3);
  });
});
