import { describe, expect, it } from 'vitest';
import { gyRelativeSd } from '../../../api/calc/assay/gy-sampling.ts';
import { workLot } from '../../../api/calc/facts/lot-evidence.ts';
import type { LotFacts } from '../../../api/calc/facts/records.ts';
import {
  goldGptForSampling,
  sampleMassForG,
  samplingError,
} from '../../../api/calc/facts/sampling-from-record.ts';
import { smeltFromRecord } from '../../../api/calc/facts/smelt-from-record.ts';
import { facts, labAssay, record } from './bench-facts.ts';
import { inventedFacts } from './invented-lot.ts';

const coarse: LotFacts['sampling'] = {
  model: 'coarse-gold',
  grainSizeMm: 0.5,
  grainShape: 'nugget',
  goldFrac: 0.85,
  grainDensityGpml: 17,
  silverWithGold: true,
};
const ground: LotFacts['sampling'] = {
  model: 'gy',
  topSizeMm: 1,
  liberationSizeMm: 0.2,
  shapeFactor: 0.5,
  liberationExponent: 1.5,
  goldFrac: 0.85,
  grainDensityGpml: null,
  silverWithGold: false,
};
const lot = (sampling: LotFacts['sampling']) => ({ ...facts.lot, sampling });

describe('the sampling error of a sample of a lot', () => {
  it('is Poisson’s on the grains of coarse gold', () => {
    // A grain of 0.5 mm: π/6 × 0.5³ mm³ × 17 mg/mm³ × 0.85 = 0.945739 mg of gold; at 900 g/t 100 g hold 90 mg, so
    // 95.16 grains and 1/√n = 10.25 % (Clifton et al., U.S. Geological Survey Professional Paper 625-C, 1969),
    // less √(1 − 100/500000) for the share of the lot.
    const error = samplingError({ lot: lot(coarse), goldGpt: 900, sampleMassG: 100 });
    const grainMg = (Math.PI / 6) * 0.5 ** 3 * 17 * 0.85;
    expect(error?.relativeSdGold).toBeCloseTo(Math.sqrt(grainMg / 90) * Math.sqrt(1 - 100 / 500_000), 9);
    expect(error?.relativeSdSilver).toBe(error?.relativeSdGold);
  });

  it('is that of the gold alone where the silver is in the sulfides', () => {
    const error = samplingError({
      lot: lot({ ...coarse, silverWithGold: false }),
      goldGpt: 900,
      sampleMassG: 100,
    });
    expect(error?.relativeSdSilver).toBe(0);
  });

  it('is Gy’s of ground ore, with the sulfides carrying the silver', () => {
    const error = samplingError({ lot: lot(ground), goldGpt: 900, sampleMassG: 100 });
    // P. M. Gy, Sampling of Particulate Materials (1979): s² = f·g·c·l·d³/M by hand. Gold: a = 9e-4/0.85; density
    // 1/(0.85/19.3 + 0.15/10.5) = 17.147; gangue 60 % pyrite and 40 % quartz: 1/(0.6/5.02 + 0.4/2.65) = 3.6979.
    const a = 9e-4 / 0.85;
    const c = ((1 - a) / a) * ((1 - a) * 17.147 + a * 3.6979);
    const s2 = 0.5 * 0.25 * c * 0.2 ** 1.5 * 0.1 ** 3 * (1 / 100 - 1 / 500_000);
    expect(error?.relativeSdGold).toBeCloseTo(Math.sqrt(s2), 5);
    expect(error?.relativeSdSilver).toBeCloseTo(
      gyRelativeSd({
        material: {
          topSizeMm: 1,
          liberationSizeMm: 1,
          mineralFrac: 0.6,
          mineralDensityGpml: 5.02,
          gangueDensityGpml: 2.65,
        },
        sampleMassG: 100,
        lotMassG: 500_000,
      }),
      12,
    );
  });

  it('is not known without a record or without a gold grade', () => {
    expect(samplingError({ lot: lot(null), goldGpt: 900, sampleMassG: 100 })).toBeNull();
    expect(samplingError({ lot: lot(coarse), goldGpt: null, sampleMassG: 100 })).toBeNull();
  });

  it.each([
    ['coarse gold', coarse],
    ['ground ore', ground],
  ])('falls to what was wanted at the mass that is said, %s', (_name, sampling) => {
    const sampleMassG = sampleMassForG({ lot: lot(sampling), goldGpt: 900, relativeSd: 0.05 }) ?? 0;
    const error = samplingError({ lot: lot(sampling), goldGpt: 900, sampleMassG });
    expect(error?.relativeSdGold).toBeCloseTo(0.05, 9);
  });
});

describe('the gold grade that it is worked with', () => {
  const smelt = (partedGoldMg: number | null, setAsideReason: string | null = null) => ({
    smelts: [{ ...record, partedGoldMg, setAsideReason }],
  });
  it('is that of the laboratories, else of all parted tests together', () => {
    const assayed = { labAssays: [labAssay({ value: '905' })] };
    expect(goldGptForSampling(assayed, [smelt(75)])).toBeCloseTo(905, 9);
    const trials = [smelt(80), smelt(60), smelt(null), smelt(500, 'mixed up')];
    expect(goldGptForSampling({ labAssays: [] }, trials)).toBeCloseTo(700, 9);
    expect(goldGptForSampling({ labAssays: [] }, [smelt(null)])).toBeNull();
  });
});

describe('what it does', () => {
  const withSampling = {
    ...facts,
    lot: {
      ...facts.lot,
      labAssays: [labAssay({ value: '900', standardUncertainty: '9' })],
      sampling: coarse,
    },
    samplingGoldGpt: 900,
  };

  it('enters the test smelt and warns of few grains', () => {
    const { smelt, findings } = smeltFromRecord({ ...record, sampleMassG: 10 }, withSampling);
    expect(smelt.sampling?.relativeSdGold).toBeCloseTo(0.324, 3);
    expect(findings.map(({ code }) => code)).toEqual(['few-gold-grains']);
  });

  it('enters the lab assays by the mass of their samples, and widens the grade', () => {
    const base = inventedFacts();
    const known = {
      ...base.lot,
      labAssays: [labAssay({ value: '900', standardUncertainty: '9', sampleMassG: 100 })],
    };
    const width = (lotFacts: LotFacts) => {
      const { inference } = workLot({ ...base, lot: lotFacts }, { drawCount: 20_000, seed: 3 });
      return { sd: inference.summary.Au.gradeGpt?.sd ?? 0, findings: inference.findings };
    };
    const plain = width(known);
    const sampled = width({ ...known, sampling: coarse });
    const fine = width({ ...known, sampling: { ...coarse, grainSizeMm: 0.01 } });
    expect(sampled.sd / fine.sd).toBeGreaterThan(1.3);
    // Where it is stated, the spread that is common for coarse gold is not taken on top.
    expect(fine.sd / plain.sd).toBeLessThan(0.8);
    const unknown = width({
      ...known,
      labAssays: [{ ...known.labAssays[0]!, sampleMassG: null }],
      sampling: coarse,
    });
    expect(unknown.findings.map(({ code }) => code)).toContain('lab-sample-mass-missing');
    expect(sampled.findings.map(({ code }) => code)).not.toContain('lab-sample-mass-missing');
  });
});
