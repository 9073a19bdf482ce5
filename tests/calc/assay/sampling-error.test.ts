import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { coarseGoldSampling } from '../../../api/calc/assay/coarse-gold.ts';
import type { CoarseGold } from '../../../api/calc/assay/coarse-gold.ts';
import { gyConstantGpml, gyRelativeSd, gySampleMassG } from '../../../api/calc/assay/gy-sampling.ts';
import { ingamellsConstant, testMassForErrorG } from '../../../api/calc/assay/ingamells.ts';

describe('Gy’s formula', () => {
  // The lead ore of B. A. Wills, Mineral Processing Technology (1982 and later), chapter on sampling: 5 % Pb as galena
  // (86.6 % Pb, density 7.5, gangue 2.65), free below 0.15 mm, wanted to 2 % of its assay at 95 % (1.96 s) over four
  // stages of equal variance. Published worked table of that ore at four top sizes, masses doubled for safety:
  // 1,369,632 g at 2.5 cm, 24,501 g at 0.5 cm, 438 g at 0.1 cm, 0.07 g at 0.004 cm.
  const ore = (topSizeMm: number) => ({
    topSizeMm,
    liberationSizeMm: 0.15,
    mineralFrac: 5 / 86.6,
    mineralDensityGpml: 7.5,
    gangueDensityGpml: 2.65,
  });
  const relativeSd = 0.02 / 1.96 / Math.sqrt(4);

  it.each([
    [25, 1_369_632, 0],
    [5, 24_501, 0],
    [1, 438, 0],
    [0.04, 0.07, 2],
  ])('gives the sample masses of the lead ore at a top size of %s mm', (topSizeMm, printedG, decimals) => {
    expect(2 * gySampleMassG({ material: ore(topSizeMm), relativeSd })).toBeCloseTo(printedG, decimals);
  });

  it('asks for a mass that leaves the error it was asked for, of a lot of any size', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.05, max: 30, noNaN: true }),
        fc.double({ min: 0.001, max: 0.5, noNaN: true }),
        fc.option(fc.double({ min: 10, max: 1e6, noNaN: true }), { nil: null }),
        (topSizeMm, wanted, lotMassG) => {
          const material = ore(topSizeMm);
          const sampleMassG = gySampleMassG({ material, relativeSd: wanted, lotMassG });
          // No more than the lot, up to rounding.
          if (lotMassG !== null) expect(sampleMassG / lotMassG).toBeLessThanOrEqual(1 + 1e-12);
          const left = gyRelativeSd({ material, sampleMassG, lotMassG });
          // Where the sample is nearly the whole lot the difference of the two inverses loses figures.
          expect(Math.abs(left - wanted)).toBeLessThan(1e-4 * wanted + 1e-3);
        },
      ),
    );
  });

  it('has no error left when the whole lot is taken, and no liberation factor above 1', () => {
    expect(gyRelativeSd({ material: ore(5), sampleMassG: 800, lotMassG: 800 })).toBe(0);
    expect(gyConstantGpml(ore(0.1))).toBeCloseTo(gyConstantGpml(ore(0.15)), 12);
  });
});

describe('free gold by the number of grains', () => {
  const gold: CoarseGold = {
    gradeGpt: 3,
    sampleMassG: 50,
    lotMassG: null,
    shape: 'flake',
    sizes: [{ diameterMm: 0.177, goldShareFrac: 1 }],
    grainDensityGpml: 17,
    grainGoldFrac: 1,
    wantedRelativeSd: 0.1,
  };
  const worked = (about: Partial<CoarseGold>) => {
    const result = coarseGoldSampling({ ...gold, ...about });
    if (result === null) throw new Error('there is gold');
    return result;
  };

  // U.S. Geological Survey Professional Paper 625-C (1969), fig. 1: 20 grains leave a relative standard deviation of
  // 22 %, 100 grains 10 %. As read off its size graph in the literature: 50 g holds 20 flakes (± 50 %) of 0.177 mm at
  // 3 g/t, and of 0.030 mm at 0.016 g/t; a reading off a logarithmic graph, so within a fifth.
  it('agrees with the graphs of USGS Professional Paper 625-C', () => {
    expect(worked({}).effectiveGrains / 20).toBeGreaterThan(0.8);
    expect(worked({}).effectiveGrains / 20).toBeLessThan(1.2);
    const fine = worked({ gradeGpt: 0.016, sizes: [{ diameterMm: 0.03, goldShareFrac: 1 }] });
    expect(fine.effectiveGrains / 20).toBeGreaterThan(0.8);
    expect(fine.effectiveGrains / 20).toBeLessThan(1.2);
    const { effectiveGrains } = worked({});
    const massOf = (grains: number) => (50 * grains) / effectiveGrains;
    expect(worked({ sampleMassG: massOf(20) }).relativeSd).toBeCloseTo(0.2236, 4);
    expect(worked({ sampleMassG: massOf(100) }).relativeSd).toBeCloseTo(0.1, 10);
    expect(worked({}).sampleMassForWantedG).toBeCloseTo(massOf(100), 6);
  });

  it('is Gy’s formula where the gold is free, of one size and rare', () => {
    const { relativeSd } = worked({ shape: 'nugget' });
    const gy = gyRelativeSd({
      material: {
        topSizeMm: 0.177,
        liberationSizeMm: 0.177,
        mineralFrac: 3e-6,
        mineralDensityGpml: 17,
        gangueDensityGpml: 2.65,
        shapeFactor: Math.PI / 6,
        sizeRangeFactor: 1,
      },
      sampleMassG: 50,
    });
    expect(relativeSd).toBeCloseTo(gy, 5);
  });

  it('is governed by the coarse grains', () => {
    const mixed = worked({
      sizes: [
        { diameterMm: 1, goldShareFrac: 0.1 },
        { diameterMm: 0.1, goldShareFrac: 0.9 },
      ],
    });
    const coarseOnly = worked({ sizes: [{ diameterMm: 1, goldShareFrac: 0.1 }] });
    expect(mixed.relativeSd / coarseOnly.relativeSd).toBeLessThan(1.01);
    const halves = worked({
      sizes: [
        { diameterMm: 0.177, goldShareFrac: 0.5 },
        { diameterMm: 0.177, goldShareFrac: 0.5 },
      ],
    });
    expect(halves.relativeSd).toBeCloseTo(worked({}).relativeSd, 12);
  });

  it('says when the grains are too few, and what mass would do', () => {
    const few = worked({ sampleMassG: 10 });
    expect(few.findings.map(({ code, path }) => [code, path])).toEqual([['few-gold-grains', '/sampleMassG']]);
    expect(worked({ sampleMassG: 1000 }).findings).toEqual([]);
  });

  it('has less error in a sample that is most of its lot, none in the whole, and is null without gold', () => {
    expect(worked({ lotMassG: 100 }).relativeSd).toBeCloseTo(worked({}).relativeSd * Math.SQRT1_2, 12);
    expect(worked({ lotMassG: 50 }).relativeSd).toBe(0);
    expect(coarseGoldSampling({ ...gold, gradeGpt: 0 })).toBeNull();
  });
});

describe('Ingamells’ constant', () => {
  // J. S. Harvey, Modern Analytical Chemistry (2000), example 7.6: five samples, R 2.46 %, Ks 6.06 g, and 1.5 g for 2 %.
  const samples = [
    { massG: 0.9956, value: 1.34 },
    { massG: 0.9981, value: 1.29 },
    { massG: 1.0036, value: 1.32 },
    { massG: 0.9994, value: 1.26 },
    { massG: 1.0067, value: 1.28 },
  ];
  it('works Harvey’s example', () => {
    const constant = ingamellsConstant([samples])!;
    expect(constant.constantG).toBeCloseTo(6.06, 2);
    expect(constant.degreesOfFreedom).toBe(4);
    expect(testMassForErrorG({ ...constant, relativeSd: 0.02 })).toBeCloseTo(1.5, 1);
    expect(testMassForErrorG({ ...constant, relativeSd: 0.0246 })).toBeCloseTo(1, 1);
  });

  // NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.4, critical values of chi-square with 4 degrees of
  // freedom: 7.779 at 0.90 and 1.064 at 0.10.
  it('gives the range that so few samples leave', () => {
    const { constantG, lowG, highG } = ingamellsConstant([samples])!;
    expect(lowG / constantG).toBeCloseTo(4 / 7.779, 3);
    expect(highG / constantG).toBeCloseTo(4 / 1.064, 2);
  });

  it('pools groups of different means by their degrees of freedom', () => {
    const richer = samples.map(({ massG, value }) => ({ massG, value: 10 * value }));
    const pooled = ingamellsConstant([samples, richer, samples.slice(0, 1)])!;
    expect(pooled.constantG).toBeCloseTo(ingamellsConstant([samples])!.constantG, 12);
    expect(pooled.degreesOfFreedom).toBe(8);
  });

  it('asks for the mass at which sampling and weighing together make the error that was asked for', () => {
    const weighed = samples.map((one) => ({ ...one, uWeighing: 0.02 }));
    const constant = ingamellsConstant([weighed])!;
    const massG = testMassForErrorG({ ...constant, relativeSd: 0.005 });
    const centre = 1.298;
    const sampling = (constant.constantG - constant.weighingG) / 1e4 / massG;
    const weighing = ((0.02 / centre) * (constant.repeatMassG / massG)) ** 2;
    expect(Math.sqrt(sampling + weighing)).toBeCloseTo(0.005, 5);
    // Agreement better than the balance's is luck: then the balance alone says what mass it takes.
    const coarse = ingamellsConstant([samples.map((one) => ({ ...one, uWeighing: 0.2 }))])!;
    expect(testMassForErrorG({ ...coarse, relativeSd: 0.01 })).toBeCloseTo(
      ((0.2 / centre) * coarse.repeatMassG) / 0.01,
      6,
    );
  });

  it('needs two samples', () => {
    expect(ingamellsConstant([samples.slice(0, 1)])).toBeNull();
    expect(ingamellsConstant([])).toBeNull();
  });
});
