import { mersenne } from 'pure-rand/generator/mersenne';
import { describe, expect, it } from 'vitest';
import { coarseGoldSampling } from '../../../api/calc/assay/coarse-gold.ts';
import { workTestSmelt } from '../../../api/calc/assay/test-smelt.ts';
import { mean, standardDeviation } from '../../../api/calc/statistics/sample.ts';
import { smeltOf } from './smelt-of.ts';

/** Uniform draws on (0, 1) from pure-rand's Mersenne Twister, and normal ones by Box and Muller (1958). */
function drawsFrom(seed: number) {
  const generator = mersenne(seed);
  const uniform = () => ((generator.next() >>> 0) + 0.5) / 2 ** 32;
  const normal = () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
  return { uniform, normal };
}

const draws = 40_000;

describe('uncertainty of a test smelt against propagation of distributions (JCGM 101:2008)', () => {
  // Every weighing redrawn as two readings rounded to the step of the balance and a normal repeatability; blank, losses
  // and sampling normal. The grade is then worked in one line, without any of the program's arithmetic.
  it('agrees on both grades, their sum and their covariance', () => {
    const smelt = smeltOf({
      sampleMassG: 20,
      collectorLeadG: 40,
      buttonG: 38,
      beadMg: 30,
      partedGoldMg: 6,
      sampleBalance: { name: 'bench balance', readabilityG: 0.5, repeatabilityG: 0.2 },
      beadBalance: { name: 'bead balance', readabilityG: 0.0005, repeatabilityG: 0.0002 },
      blankMgPerGLead: { value: 0.02, u: 0.005 },
      cupellationCorrection: {
        silverLossFrac: { value: 0.02, u: 0.006 },
        goldLossFrac: { value: 0.003, u: 0.001 },
      },
      sampling: { relativeSdGold: 0.03, relativeSdSilver: 0.01 },
    });
    const { uniform, normal } = drawsFrom(20);
    const weigh = (mass: number, step: number, sd: number) =>
      mass + step * (uniform() - uniform()) + sd * normal();
    const gold: number[] = [];
    const silver: number[] = [];
    for (let i = 0; i < draws; i++) {
      const sampleG = weigh(20, 0.5, 0.2);
      const leadG = weigh(40, 0.5, 0.2);
      const beadMg = weigh(30, 0.5, 0.2);
      const goldMg = weigh(6, 0.5, 0.2);
      const blankMg = leadG * (0.02 + 0.005 * normal());
      gold.push((1000 * goldMg * (1 + 0.03 * normal())) / (1 - (0.003 + 0.001 * normal())) / sampleG);
      silver.push(
        (1000 * (beadMg - goldMg - blankMg) * (1 + 0.01 * normal())) /
          (1 - (0.02 + 0.006 * normal())) /
          sampleG,
      );
    }
    const worked = workTestSmelt(smelt);
    const both = gold.map((grade, i) => grade + (silver[i] ?? 0));
    const covariance =
      (standardDeviation(both) ** 2 - standardDeviation(gold) ** 2 - standardDeviation(silver) ** 2) / 2;
    // 40,000 draws know a standard deviation to 0.35 %; the first-order law leaves out some 0.1 %.
    expect(Math.abs((worked.goldGpt?.u ?? 0) / standardDeviation(gold) - 1)).toBeLessThan(0.02);
    expect(Math.abs((worked.silverGpt?.u ?? 0) / standardDeviation(silver) - 1)).toBeLessThan(0.02);
    expect(Math.abs((worked.goldPlusSilverGpt?.u ?? 0) / standardDeviation(both) - 1)).toBeLessThan(0.02);
    const scale = standardDeviation(gold) * standardDeviation(silver);
    expect(Math.abs((worked.covarianceGoldSilver ?? 0) - covariance) / scale).toBeLessThan(0.02);
    expect(Math.abs((worked.goldGpt?.value ?? 0) / mean(gold) - 1)).toBeLessThan(0.003);
  });
});

describe('sampling error of coarse gold against grains that are drawn', () => {
  it('agrees for two sizes of grain', () => {
    const worked = coarseGoldSampling({
      gradeGpt: 40,
      sampleMassG: 100,
      lotMassG: null,
      shape: 'nugget',
      sizes: [
        { diameterMm: 0.4, goldShareFrac: 0.5 },
        { diameterMm: 0.2, goldShareFrac: 0.5 },
      ],
      grainDensityGpml: 15,
      grainGoldFrac: 0.8,
      wantedRelativeSd: 0.1,
    });
    // Fine gold, mg, in a grain of each size, and the number of such grains to expect in 4 mg of gold.
    const grains = [0.4, 0.2].map((diameterMm) => {
      const goldMg = (4 / 3) * Math.PI * (diameterMm / 2) ** 3 * 15 * 0.8;
      return { goldMg, expected: 2 / goldMg };
    });
    const { uniform } = drawsFrom(7);
    const poisson = (expected: number): number => {
      let n = 0;
      for (let left = uniform(); left > Math.exp(-expected); left *= uniform()) n++;
      return n;
    };
    const samples = Array.from({ length: draws }, () =>
      grains.reduce((total, { goldMg, expected }) => total + goldMg * poisson(expected), 0),
    );
    expect(mean(samples) / 4).toBeCloseTo(1, 1);
    const relativeSd = standardDeviation(samples) / 4;
    expect(Math.abs((worked?.relativeSd ?? 0) / relativeSd - 1)).toBeLessThan(0.02);
  });
});
