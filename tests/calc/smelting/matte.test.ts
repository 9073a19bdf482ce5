import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { molarMass } from '../../../api/calc/smelting/atomic-weights.ts';
import {
  matteExpected,
  matteSulfurFrac,
  speissFromArsenic,
  sulfurBoundByLead,
} from '../../../api/calc/smelting/matte.ts';

describe('matte', () => {
  it('binds 0.15473 g of sulfur with each gram of lead as PbS (32.06/207.2, IUPAC 2021)', () => {
    expect(sulfurBoundByLead(1)).toBeCloseTo(0.15473, 5);
  });

  // D. M. Levy, Modern Copper Smelting, 1912: a matte of 44 % Cu, reckoned as Cu2S and FeS, has 28 parts S,
  // in whole parts (11 + 17, the latter 16.4 unrounded).
  it('takes for matte the sulfur of Cu2S and FeS at 44 % copper', () => {
    const cuprousSulfideFrac = (0.44 * molarMass({ Cu: 2, S: 1 })) / (2 * 63.546);
    const sulfurFrac =
      (cuprousSulfideFrac * 32.06) / molarMass({ Cu: 2, S: 1 }) +
      ((1 - cuprousSulfideFrac) * 32.06) / molarMass({ Fe: 1, S: 1 });
    expect(matteSulfurFrac.value).toBeCloseTo(sulfurFrac, 3);
    expect(Math.abs(matteSulfurFrac.value - 0.28)).toBeLessThanOrEqual(0.01);
    expect(sulfurFrac).toBeGreaterThan(matteSulfurFrac.low);
    expect(sulfurFrac).toBeLessThan(matteSulfurFrac.high);
  });

  it('reckons what is left of the sulfur as matte, and warns of the metal in it', () => {
    const matte = matteExpected({ sulfurInG: 30, sulfurRoastedG: 16, leadThereG: 60 });
    expect(matte.sulfurLeftG).toBeCloseTo(14, 12);
    expect(matte.matteG).toEqual({
      low: expect.closeTo(14 / 0.3, 9),
      value: expect.closeTo(14 / 0.275, 9),
      high: expect.closeTo(56, 9),
    });
    expect(matte.leadInMatteG.value).toBeCloseTo((14 / 0.275) * 0.15, 9);
    expect(matte.findings.map((finding) => finding.code)).toEqual(['matte-expected']);
  });

  it('takes no more lead than there is, nor more than the sulfur can bind', () => {
    const noLead = matteExpected({ sulfurInG: 30, leadThereG: 2 });
    expect(noLead.leadInMatteG.high).toBe(2);
    const onlyLead = { low: 0.9, value: 0.9, high: 0.9 };
    const bound = matteExpected({ sulfurInG: 1, leadThereG: 100, leadFrac: onlyLead });
    expect(sulfurBoundByLead(bound.leadInMatteG.value)).toBeLessThanOrEqual(1 + 1e-12);
  });

  it('expects none after a dead roast, and speaks up when more sulfur goes than came', () => {
    expect(matteExpected({ sulfurInG: 30, sulfurRoastedG: 30, leadThereG: 60 })).toMatchObject({
      sulfurLeftG: 0,
      findings: [],
    });
    const over = matteExpected({ sulfurInG: 30, sulfurRoastedG: 25, sulfurOxidizedG: 10, leadThereG: 60 });
    expect(over.sulfurLeftG).toBe(0);
    expect(over.findings.map((finding) => finding.code)).toEqual(['sulfur-over-accounted']);
  });

  it('lets lead catch for its high figures what pyrite gives off on heating', () => {
    const matte = matteExpected({ sulfurInG: 20, sulfurDistilledG: 10, leadThereG: 30 });
    expect(matte.sulfurLeftG).toBe(10);
    expect(matte.matteG.high).toBeCloseTo((10 + 30 * 0.15473) / 0.25, 2);
    expect(matte.leadInMatteG.high).toBe(30);
    expect(matte.leadInMatteG.value).toBeCloseTo((10 / 0.275) * 0.15, 9);
  });

  it('makes 2.863 g of speiss Fe5As2 of a gram of arsenic', () => {
    expect(speissFromArsenic(1)).toBeCloseTo((5 * 55.845 + 2 * 74.922) / (2 * 74.922), 9);
  });

  it('keeps low, value and high in order', () => {
    const grams = fc.double({ min: 0, max: 1000, noNaN: true });
    fc.assert(
      fc.property(grams, grams, grams, (sulfurInG, sulfurRoastedG, leadThereG) => {
        const { matteG, leadInMatteG } = matteExpected({ sulfurInG, sulfurRoastedG, leadThereG });
        for (const range of [matteG, leadInMatteG]) {
          expect(range.low).toBeLessThanOrEqual(range.value);
          expect(range.value).toBeLessThanOrEqual(range.high);
        }
        expect(leadInMatteG.high).toBeLessThanOrEqual(leadThereG);
      }),
    );
  });
});
