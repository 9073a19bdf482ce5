import { describe, expect, it } from 'vitest';
import { silverToAddForPartingMg } from '../../../api/calc/assay/parting.ts';
import { workTestSmelt } from '../../../api/calc/assay/test-smelt.ts';
import { weighedG, weighedMg, weighingUncertaintyG } from '../../../api/calc/assay/weighing.ts';
import { gptFromPercent, ozPerLongTonFromGpt, ozPerShortTonFromGpt } from '../../../api/calc/units.ts';
import { smeltOf } from './smelt-of.ts';

describe('grades of C. and J. J. Beringer, A Text-book of Assaying, 9th ed. 1904 (public domain)', () => {
  it('0.0435 g of silver from 20 g of ore is 71.05 oz to the long ton', () => {
    const { goldPlusSilverGpt } = workTestSmelt(
      smeltOf({ sampleMassG: 20, beadMg: 43.5, partedGoldMg: null }),
    );
    expect(ozPerLongTonFromGpt(goldPlusSilverGpt?.value ?? 0)).toBeCloseTo(71.05, 2);
  });

  it('1.24 % of silver is 405.07 oz to the long ton', () => {
    expect(ozPerLongTonFromGpt(gptFromPercent(1.24))).toBeCloseTo(405.07, 2);
  });

  it('10 mg of gold from 100 g is 2.9167 oz to the short ton', () => {
    const { goldGpt } = workTestSmelt(smeltOf({ sampleMassG: 100, partedGoldMg: 10 }));
    expect(ozPerShortTonFromGpt(goldGpt?.value ?? 0)).toBeCloseTo(2.9167, 4);
  });

  // Silver found 0.2893 g, less 0.0017 g from the lead of the charge, out of 20 g of ore; he adds 0.0060 g from the
  // slag and 0.0100 g lost in the cupel, in all 0.3036 g or 495.9 oz to the long ton. Here the loss in the cupel
  // enters as the fraction that his figures make of it.
  it('works his corrected silver assay, 495.9 oz to the long ton', () => {
    const beadMg = 289.3 + 6.0;
    const netMg = beadMg - 1.7;
    const { silverGpt } = workTestSmelt(
      smeltOf({
        sampleMassG: 20,
        beadMg,
        partedGoldMg: 0,
        collectorLeadG: 85,
        buttonG: 60,
        blankMgPerGLead: { value: 0.02, u: 0 },
        cupellationCorrection: {
          silverLossFrac: { value: 10 / (netMg + 10), u: 0 },
          goldLossFrac: { value: 0, u: 0 },
        },
      }),
    );
    expect(silverGpt?.value).toBeCloseTo((1000 * 303.6) / 20, 8);
    expect(ozPerLongTonFromGpt(silverGpt?.value ?? 0)).toBeCloseTo(495.9, 1);
  });

  it('a 10 mg bead with 8 mg of gold takes 18 mg of silver to part, 0.5 g of bullion 92 % gold and 1 % silver 1.145 g', () => {
    expect(silverToAddForPartingMg({ goldMg: 8, silverMg: 2 })).toBe(18);
    expect(silverToAddForPartingMg({ goldMg: 460, silverMg: 5 })).toBeCloseTo(1145, 9);
    expect(silverToAddForPartingMg({ goldMg: 1, silverMg: 9 })).toBe(0);
  });
});

describe('the weighing', () => {
  // JCGM 100:2008, F.2.2.1: a reading rounded to δ has u = 0.29 δ; a weighing is the difference of two such.
  it('has the uncertainty of two rounded readings and the repeatability', () => {
    const balance = { name: 'bench balance', readabilityG: 0.01, repeatabilityG: 0 };
    expect(weighingUncertaintyG(balance)).toBeCloseTo(Math.SQRT2 * 0.29 * 0.01, 4);
    expect(weighingUncertaintyG({ ...balance, repeatabilityG: 0.02 })).toBeCloseTo(
      Math.hypot(0.01 / Math.sqrt(6), 0.02),
      15,
    );
    expect(weighedG({ massG: 5, balance })).toEqual({ value: 5, u: weighingUncertaintyG(balance) });
    expect(weighedMg({ massMg: 5, balance }).u).toBeCloseTo(1000 * weighingUncertaintyG(balance), 12);
  });
});

describe('working a test smelt', () => {
  it('divides by the mass before the roast', () => {
    const roast = { massBeforeG: 100, massAfterG: 72, hours: 2, tempC: 500 };
    const roasted = workTestSmelt(smeltOf({ roast }));
    expect(roasted.goldGpt?.value).toBeCloseTo(100, 12);
    expect(roasted.roastLossFrac?.value).toBeCloseTo(0.28, 12);
    // d(1 − after/before): the two weighings of 0.01 g readability.
    const uG = 0.01 / Math.sqrt(6);
    expect(roasted.roastLossFrac?.u).toBeCloseTo(Math.hypot(uG / 100, (72 * uG) / 100 ** 2), 12);
  });

  it('takes the blank of the lead from the silver', () => {
    const worked = workTestSmelt(smeltOf({ blankMgPerGLead: { value: 0.02, u: 0.002 } }));
    expect(worked.blankMg?.value).toBeCloseTo(1.2, 12);
    expect(worked.silverGpt?.value).toBeCloseTo((1000 * (60 - 10 - 1.2)) / 100, 10);
    expect(worked.goldGpt?.value).toBeCloseTo(100, 12);
    expect(worked.goldPlusSilverGpt?.value).toBeCloseTo((1000 * (60 - 1.2)) / 100, 10);
  });

  // PbO holds 92.83 % of lead and a gram of lead binds 0.15473 g of sulfur as PbS: IUPAC/CIAAW abridged standard
  // atomic weights 2021, Pb 207.2, O 15.999, S 32.06.
  it('counts the lead of litharge and of the sample, and says where lead that is missing went', () => {
    const worked = workTestSmelt(
      smeltOf({ collectorLeadG: 20, lithargeG: 40, sampleLeadFrac: { value: 0.1, u: 0.01 }, buttonG: 50 }),
    );
    const leadIn = 20 + 40 * 0.9283 + 10;
    expect(worked.leadInG?.value).toBeCloseTo(leadIn, 2);
    expect(worked.leadInG?.u).toBeCloseTo(1, 2);
    expect(worked.leadReturnFrac?.value).toBeCloseTo(50 / leadIn, 4);
    const missing = worked.findings.find(({ code }) => code === 'lead-missing-from-button');
    expect(missing?.sentence).toContain('17.13 g');
    expect(missing?.sentence).toContain('2.651 g of sulfur');
    expect(17.13 * 0.15473).toBeCloseTo(2.651, 3);
  });

  it('takes the blank from litharge where the collector is reduced from it', () => {
    const worked = workTestSmelt(
      smeltOf({ collectorLeadG: null, lithargeG: 50, blankMgPerGLead: { value: 0.02, u: 0 }, buttonG: 40 }),
    );
    expect(worked.blankMg?.value).toBeCloseTo(50 * 0.9283 * 0.02, 4);
  });

  it('gives matte fall and slag fall on the sample as received', () => {
    const worked = workTestSmelt(smeltOf({ matteG: 12, slagG: 150 }));
    expect(worked.matteFallFrac?.value).toBeCloseTo(0.12, 12);
    expect(worked.slagFallFrac?.value).toBeCloseTo(1.5, 12);
  });

  it('gives gold and silver together for an unparted bead, and splits it only by a lab ratio', () => {
    const unparted = workTestSmelt(smeltOf({ partedGoldMg: null }));
    expect([unparted.goldGpt, unparted.silverGpt, unparted.covarianceGoldSilver]).toEqual([null, null, null]);
    expect(unparted.goldPlusSilverGpt?.value).toBeCloseTo(600, 10);

    const split = workTestSmelt(
      smeltOf({ partedGoldMg: null, silverToGoldRatioFromAssay: { value: 5, u: 0.25 } }),
    );
    expect(split.goldGpt?.value).toBeCloseTo(100, 10);
    expect(split.silverGpt?.value).toBeCloseTo(500, 10);
    // gold = N/(1 + r): d gold/dr = −N/(1 + r)², 600 × 0.25/36 g/t; the ratio moves metal from one to the other.
    expect(split.goldGpt?.u).toBeCloseTo((600 * 0.25) / 36, 3);
    expect(split.covarianceGoldSilver ?? 0).toBeLessThan(0);
    expect(split.goldPlusSilverGpt?.u ?? 9).toBeLessThan(0.1);
    expect(split.findings.map(({ code }) => code)).toContain('split-by-lab-ratio');
  });

  it('gives gold from parted gold where the bead was not weighed', () => {
    const worked = workTestSmelt(smeltOf({ beadMg: null }));
    expect(worked.goldGpt?.value).toBeCloseTo(100, 12);
    expect(worked.silverGpt).toBeNull();
    expect(worked.goldPlusSilverGpt).toBeNull();
  });

  it('corrects for cupelling, with the uncertainty of the correction, only when told to', () => {
    const cupellationCorrection = {
      silverLossFrac: { value: 0.02, u: 0.005 },
      goldLossFrac: { value: 0.003, u: 0.001 },
    };
    const corrected = workTestSmelt(smeltOf({ cupellationCorrection }));
    expect(corrected.silverGpt?.value).toBeCloseTo(500 / 0.98, 10);
    expect(corrected.goldGpt?.value).toBeCloseTo(100 / 0.997, 10);
    expect(corrected.silverGpt?.u).toBeCloseTo((500 / 0.98) * (0.005 / 0.98), 2);
    const split = workTestSmelt(
      smeltOf({
        cupellationCorrection,
        partedGoldMg: null,
        silverToGoldRatioFromAssay: { value: 5, u: 0 },
        // The bead that is left of 10 mg of gold and 50 mg of silver.
        beadMg: 10 * 0.997 + 50 * 0.98,
      }),
    );
    expect(split.goldGpt?.value).toBeCloseTo(100, 10);
    expect(split.silverGpt?.value).toBeCloseTo(500, 10);
    const unparted = workTestSmelt(smeltOf({ cupellationCorrection, partedGoldMg: null }));
    expect(unparted.goldPlusSilverGpt?.value).toBeCloseTo(600, 10);
    expect(unparted.findings.map(({ code }) => code)).toContain('correction-needs-split');
  });

  it('propagates every weighing, checked against the law of propagation written out by hand', () => {
    const worked = workTestSmelt(
      smeltOf({
        sampleMassG: 10,
        beadMg: 12,
        partedGoldMg: 3,
        blankMgPerGLead: { value: 0.02, u: 0.004 },
        sampleBalance: { name: 'bench balance', readabilityG: 0.1, repeatabilityG: 0.05 },
        beadBalance: { name: 'bead balance', readabilityG: 0.0001, repeatabilityG: 0.00005 },
      }),
    );
    const uSampleG = Math.hypot(0.1 / Math.sqrt(6), 0.05);
    const uBeadMg = 1000 * Math.hypot(0.0001 / Math.sqrt(6), 0.00005);
    const uBlankMg = Math.hypot(60 * 0.004, 0.02 * uSampleG);
    const silverMg = 12 - 3 - 1.2;
    expect(worked.goldGpt?.u).toBeCloseTo(1000 * Math.hypot(uBeadMg / 10, (3 * uSampleG) / 100), 9);
    expect(worked.silverGpt?.u).toBeCloseTo(
      1000 * Math.hypot(uBeadMg / 10, uBeadMg / 10, uBlankMg / 10, (silverMg * uSampleG) / 100),
      9,
    );
    expect(worked.covarianceGoldSilver).toBeCloseTo(
      1e6 * (-((uBeadMg / 10) ** 2) + (3 * silverMg * uSampleG ** 2) / 1e4),
      6,
    );
    // The parted gold drops out of the sum.
    expect(worked.goldPlusSilverGpt?.u).toBeCloseTo(
      1000 * Math.hypot(uBeadMg / 10, uBlankMg / 10, ((silverMg + 3) * uSampleG) / 100),
      9,
    );
  });

  it('adds the sampling error as a relative one', () => {
    const worked = workTestSmelt(smeltOf({ sampling: { relativeSdGold: 0.2, relativeSdSilver: 0.05 } }));
    expect(worked.goldGpt?.u).toBeCloseTo(20, 1);
    expect(worked.silverGpt?.u).toBeCloseTo(25, 1);
    const unparted = workTestSmelt(
      smeltOf({ sampling: { relativeSdGold: 0.2, relativeSdSilver: 0.05 }, partedGoldMg: null }),
    );
    expect(unparted.goldPlusSilverGpt?.u).toBeCloseTo(120, 1);
  });
});
