import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { roastChange } from '../../../api/calc/smelting/roast.ts';
import { sulfurFromRoastLoss } from '../../../api/calc/smelting/roast-sulfur.ts';
import { mineralRoastChange, galenaSulfateChange } from '../../../api/calc/smelting/roast.ts';
import { arbitraryLot } from './arbitrary-lot.ts';

describe('sulfur from a roast loss', () => {
  // Worked by hand from the abridged standard atomic weights of IUPAC 2021.
  it.each([
    ['pyrite', 1.598],
    ['pyrrhotite', 3.977],
    ['chalcopyrite', 2.66],
    ['sphalerite', 1.997],
    ['arsenopyrite', 0.386],
  ] as const)('gives for all %s %f g per gram lost', (mineral, ratio) => {
    const { sulfurDrivenOff } = sulfurFromRoastLoss({ lossFrac: 0.05, minerals: [{ mineral, massFrac: 1 }] });
    expect((sulfurDrivenOff?.valueFrac ?? 0) / 0.05).toBeCloseTo(ratio, 2);
    expect(sulfurDrivenOff?.lowFrac).toBeCloseTo(sulfurDrivenOff?.highFrac ?? 0, 12);
  });

  it('takes unknown minerals for pyrite, says so, and gives a range that holds the others', () => {
    const { sulfurDrivenOff, findings } = sulfurFromRoastLoss({ lossFrac: 0.08, minerals: [] });
    expect(sulfurDrivenOff?.valueFrac).toBeCloseTo(0.08 * 1.598, 4);
    expect(sulfurDrivenOff?.lowFrac).toBeLessThan(0.08 * 0.39);
    expect(sulfurDrivenOff?.highFrac).toBeGreaterThan(0.08 * 3.9);
    expect(findings.map((finding) => finding.code)).toEqual(['roast-minerals-unknown']);
  });

  it('spans pyrite first to pyrrhotite first where both are there', () => {
    const minerals = [
      { mineral: 'pyrite' as const, massFrac: 0.5 },
      { mineral: 'pyrrhotite' as const, massFrac: 0.5 },
    ];
    const lossFrac = 0.1;
    const { sulfurDrivenOff } = sulfurFromRoastLoss({ lossFrac, minerals });
    expect(sulfurDrivenOff?.lowFrac).toBeCloseTo(0.1 * 1.598, 4);
    // All the pyrrhotite (loss 0.04585, sulfur 0.18235), the rest of the loss by pyrite.
    expect(sulfurDrivenOff?.highFrac).toBeCloseTo(0.18235 + (0.1 - 0.04585) * 1.598, 3);
  });

  it('reckons with galena that went to sulfate: the loss of the pyrite is then hidden', () => {
    const minerals = [
      { mineral: 'pyrite' as const, massFrac: 0.5 },
      { mineral: 'galena' as const, massFrac: 0.4 },
    ];
    const alike = roastChange({ minerals, galenaSulfateFrac: 1 });
    const { sulfurDrivenOff } = sulfurFromRoastLoss({ lossFrac: -alike.massChangeFrac, minerals });
    expect(sulfurDrivenOff?.highFrac).toBeGreaterThan(alike.sulfurDrivenOffFrac - 1e-9);
  });

  it.each([0.4, -0.05])('refuses a loss of %f where pyrite can lose 0 to 0.334', (lossFrac) => {
    const { sulfurDrivenOff, findings } = sulfurFromRoastLoss({
      lossFrac,
      minerals: [{ mineral: 'pyrite', massFrac: 1 }],
    });
    expect(sulfurDrivenOff).toBeNull();
    expect(findings[0]).toMatchObject({ code: 'roast-loss-outside-minerals', level: 'blocker' });
    expect(findings[0]?.sentence).toContain('between 0.0 % and 33.4 %');
  });

  it('refuses a loss that no sulfide can suffer', () => {
    expect(sulfurFromRoastLoss({ lossFrac: 0.6, minerals: [] }).sulfurDrivenOff).toBeNull();
  });

  it('holds every way of roasting any lot within its range', () => {
    const way = fc.tuple(
      arbitraryLot,
      fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { minLength: 12, maxLength: 12 }),
    );
    fc.assert(
      fc.property(way, ([minerals, degrees]) => {
        let loss = 0;
        let sulfur = 0;
        for (const [index, { mineral, massFrac }] of minerals.entries()) {
          const degree = degrees[index] ?? 0;
          const sulfateShare = mineral === 'galena' ? (degrees[11] ?? 0) : 0;
          const oxide = mineralRoastChange(mineral);
          loss -= massFrac * degree * (1 - sulfateShare) * oxide.massChangeFrac;
          loss -= massFrac * degree * sulfateShare * galenaSulfateChange().massChangeFrac;
          sulfur += massFrac * degree * (1 - sulfateShare) * oxide.sulfurDrivenOffFrac;
        }
        const { sulfurDrivenOff } = sulfurFromRoastLoss({ lossFrac: loss, minerals });
        expect(sulfurDrivenOff?.lowFrac).toBeLessThanOrEqual(sulfur + 1e-9);
        expect(sulfurDrivenOff?.highFrac).toBeGreaterThanOrEqual(sulfur - 1e-9);
        expect(sulfurDrivenOff?.valueFrac).toBeGreaterThanOrEqual((sulfurDrivenOff?.lowFrac ?? 0) - 1e-9);
        expect(sulfurDrivenOff?.valueFrac).toBeLessThanOrEqual((sulfurDrivenOff?.highFrac ?? 0) + 1e-9);
      }),
      { numRuns: 400 },
    );
  });
});
