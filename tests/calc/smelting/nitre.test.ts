import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  leadFracOfLitharge,
  nitreForButton,
  nitrePower,
  reducerPowers,
  theoreticalNitrePower,
} from '../../../api/calc/smelting/nitre.ts';
import {
  beringerReducingPowers,
  bugbeeReducingPowers,
  reducingPower,
  theoreticalReducingPower,
} from '../../../api/calc/smelting/reducing-power.ts';
import type { Mineral } from '../../../api/calc/smelting/minerals.ts';
import { allMinerals, arbitraryLot } from './arbitrary-lot.ts';

describe('reducing power', () => {
  // C. and J. J. Beringer, A Text-book of Assaying, 9th ed. 1904, theory to SO2 and to sulfate, in the two
  // figures printed there (with the atomic weights of the time).
  it.each([
    ['pyrite', 8.6, 12.9],
    ['sphalerite', 6.4, 8.5],
    ['stibnite', 5.5, 8],
    ['galena', 2.6, 3.4],
  ] satisfies [Mineral, number, number][])('%s: %f to SO2, %f to sulfate', (mineral, toSo2, toSulfate) => {
    const theory = theoreticalReducingPower(mineral);
    expect(Math.abs(theory.toSulfurDioxide - toSo2)).toBeLessThan(0.1);
    expect(Math.abs(theory.toSulfate - toSulfate)).toBeLessThan(0.1);
  });

  // Worked by hand from the abridged standard atomic weights of IUPAC 2021.
  it.each([
    ['pyrite', 8.636, 12.954],
    ['sphalerite', 6.379, 8.506],
    ['stibnite', 5.49, 7.929],
    ['galena', 2.598, 3.464],
    ['hematite', -1.298, 0],
    ['magnetite', -0.895, 0.447],
  ] satisfies [Mineral, number, number][])('%s: %f and %f recomputed', (mineral, toSo2, toSulfate) => {
    expect(theoreticalReducingPower(mineral).toSulfurDioxide).toBeCloseTo(toSo2, 3);
    expect(theoreticalReducingPower(mineral).toSulfate).toBeCloseTo(toSulfate, 3);
  });

  it.each([beringerReducingPowers, bugbeeReducingPowers])(
    'finds the working values of $source between the two theories',
    ({ gramsLeadPerGram }) => {
      for (const [mineral, working] of Object.entries(gramsLeadPerGram)) {
        const theory = theoreticalReducingPower(mineral as Mineral);
        // printed to one or two decimals
        expect(working).toBeGreaterThanOrEqual(theory.toSulfurDioxide - 0.05);
        expect(working).toBeLessThanOrEqual(theory.toSulfate + 0.05);
      }
    },
  );

  it('knows all minerals, and says which one a source does not list', () => {
    const minerals = allMinerals.map((mineral) => ({ mineral, massFrac: 0.05 }));
    const { findings } = reducingPower({ minerals });
    expect(findings.map((finding) => finding.sentence.match(/pyrrhotite|chalcocite/)?.[0])).toEqual([
      'pyrrhotite',
      'chalcocite',
    ]);
    expect(reducingPower({ minerals, powers: bugbeeReducingPowers }).findings).toEqual([]);
  });

  it('keeps the value of any lot between theory to SO2 and theory to sulfate', () => {
    fc.assert(
      fc.property(arbitraryLot, (minerals) => {
        const lot = reducingPower({ minerals });
        expect(lot.value).toBeGreaterThanOrEqual(lot.low - 1e-9);
        expect(lot.value).toBeLessThanOrEqual(lot.high + 1e-9);
      }),
    );
  });
});

describe('nitre', () => {
  it('oxidizes 5.1235 g of lead per gram by its equation, between the values met with', () => {
    expect(theoreticalNitrePower).toBeCloseTo(5.1235, 4);
    expect(theoreticalNitrePower).toBeGreaterThan(nitrePower.low);
    expect(theoreticalNitrePower).toBeLessThan(nitrePower.high);
  });

  it('takes 2.528 g to oxidize a gram of pyrite fully', () => {
    const { nitreG } = nitreForButton({
      sampleMassG: 1,
      reducingPower: theoreticalReducingPower('pyrite').toSulfate,
      wantedButtonG: 0,
      oxidizingPower: theoreticalNitrePower,
    });
    expect(nitreG).toBeCloseTo(2.528, 3);
  });

  // Beringer, op. cit.: 20 g of ore with 50 % pyrite reduces 110 g of lead; 20 g of nitre for a button of 30 g.
  it('takes 20 g for 20 g of ore with half pyrite and a button of 30 g', () => {
    const lot = reducingPower({ minerals: [{ mineral: 'pyrite', massFrac: 0.5 }] });
    expect(20 * lot.value).toBeCloseTo(110, 9);
    const charge = nitreForButton({ sampleMassG: 20, reducingPower: lot.value, wantedButtonG: 30 });
    expect(charge.nitreG).toBeCloseTo(20, 9);
    expect(charge.flourG).toBe(0);
    expect(charge.findings).toEqual([]);
  });

  // Beringer, op. cit., on reducing agents: two parts of flour stand for one of charcoal.
  it('holds flour to do half of what charcoal does', () => {
    expect(reducerPowers.charcoal / reducerPowers.flour).toBeCloseTo(2, 1);
  });

  it('asks for flour where the ore reduces too little', () => {
    const charge = nitreForButton({ sampleMassG: 100, reducingPower: 0, wantedButtonG: 28 });
    expect(charge.nitreG).toBe(0);
    expect(charge.flourG).toBeCloseTo(28 / 11.2, 9);
    // CRC Handbook: PbO 223.2 g/mol, Pb 207.2 g/mol; 92.83 % lead.
    expect(charge.lithargeForButtonG).toBeCloseTo(28 / 0.92832, 3);
    expect(leadFracOfLitharge).toBeCloseTo(0.9283, 4);
  });

  it('warns of more nitre than sample', () => {
    const charge = nitreForButton({ sampleMassG: 20, reducingPower: 8.8, wantedButtonG: 30 });
    expect(charge.findings.map((finding) => finding.code)).toEqual(['nitre-above-sample']);
  });

  it('brings the lead reduced to the wanted button, by nitre or by flour, for any ore', () => {
    const number = (min: number, max: number) => fc.double({ min, max, noNaN: true });
    fc.assert(
      fc.property(number(1, 500), number(-1.3, 13), number(0, 400), (sampleMassG, power, wantedButtonG) => {
        const charge = nitreForButton({ sampleMassG, reducingPower: power, wantedButtonG });
        const reduced = power * sampleMassG - charge.nitreG * nitrePower.value + charge.flourG * 11.2;
        expect(Math.abs(reduced - wantedButtonG)).toBeLessThan(1e-9 * Math.max(1, power * sampleMassG));
        expect(Math.min(charge.nitreG, charge.flourG)).toBe(0);
        expect(charge.nitreLowG).toBeLessThanOrEqual(charge.nitreG);
        expect(charge.nitreHighG).toBeGreaterThanOrEqual(charge.nitreG);
      }),
    );
  });
});
