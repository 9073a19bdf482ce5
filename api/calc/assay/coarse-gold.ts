import type { Finding } from '../finding.ts';
import { figure, percentFigure } from './figures.ts';

/**
 * Volume of a grain over the cube of its diameter: a nugget is taken as a sphere, a flake as a disc ten times as
 * wide as thick (the shapes of Clifton et al., cited below).
 */
const grainShapes = { nugget: Math.PI / 6, flake: Math.PI / 40 } as const;

export interface CoarseGold {
  gradeGpt: number;
  sampleMassG: number;
  /** Null for a lot far larger than the sample. */
  lotMassG: number | null;
  shape: keyof typeof grainShapes;
  /** The gold by grain size, from a screen analysis: diameter, and the share of all gold in it; adding up to 1. */
  sizes: { diameterMm: number; goldShareFrac: number }[];
  /** Density of the native gold, g/ml: 19.3 pure, about 15 with a quarter of silver. */
  grainDensityGpml: number;
  /** Fine gold in the grain, 0..1. */
  grainGoldFrac: number;
  /** Relative standard deviation that the owner wants. */
  wantedRelativeSd: number;
}

/** Fewer grains than this and a sample is not to be trusted: twenty give 22 %, or ± 45 % (Clifton et al., p. C2). */
const fewestGrains = 20;

/**
 * Sampling error of free gold from the number of grains that a sample catches.
 *
 * Grains fall into a sample by chance (Poisson). For equal grains the relative standard deviation is 1/√n; for a
 * range of sizes it is √(Σ share × grain mass/gold in the sample), so that the few coarse grains govern; a sample
 * that is a good part of its lot has less, by √(1 − sample/lot). H. E. Clifton, R. E. Hunter, F. J. Swanson,
 * R. L. Phillips, "Sample size and meaningful gold analysis", U.S. Geological Survey Professional Paper 625-C
 * (1969). `effectiveGrains` is 1/variance: the number of equal grains that would scatter alike. Null without gold.
 */
export function coarseGoldSampling(gold: CoarseGold): {
  relativeSd: number;
  effectiveGrains: number;
  /** Sample mass for the wanted relative standard deviation, g. */
  sampleMassForWantedG: number;
  findings: Finding[];
} | null {
  const lotInverse = gold.lotMassG === null ? 0 : 1 / gold.lotMassG;
  // mg of fine gold in a grain: density g/ml is mg/mm³. Sample mass that holds one such grain: 1000·mg/(g/t).
  const massPerGrainG = gold.sizes.reduce((total, { diameterMm, goldShareFrac }) => {
    const grainMg = grainShapes[gold.shape] * gold.grainDensityGpml * diameterMm ** 3 * gold.grainGoldFrac;
    return total + goldShareFrac * ((1000 * grainMg) / gold.gradeGpt);
  }, 0);
  if (!(gold.gradeGpt > 0 && gold.sampleMassG > 0 && massPerGrainG > 0)) return null;
  const relativeSd = Math.sqrt(massPerGrainG * Math.max(0, 1 / gold.sampleMassG - lotInverse));
  const effectiveGrains = gold.sampleMassG / massPerGrainG;
  const sampleMassFor = (relative: number): number => 1 / (relative ** 2 / massPerGrainG + lotInverse);
  const findings: Finding[] = [];
  if (effectiveGrains < fewestGrains && relativeSd > 0) {
    findings.push({
      code: 'few-gold-grains',
      level: 'warning',
      path: '/sampleMassG',
      sentence: `A sample of ${figure(gold.sampleMassG)} g holds gold as if in ${figure(effectiveGrains, 2)} equal grains, so chance alone scatters the grade by ${percentFigure(relativeSd)}; twenty grains (± 45 %) are the least to trust and take ${figure(sampleMassFor(1 / Math.sqrt(fewestGrains)), 2)} g. Split a larger sample, or grind it, or screen out the coarse gold and assay it whole.`,
    });
  }
  return {
    relativeSd,
    effectiveGrains,
    sampleMassForWantedG: sampleMassFor(gold.wantedRelativeSd),
    findings,
  };
}
