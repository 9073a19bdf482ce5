import { coarseGoldSampling } from '../assay/coarse-gold.ts';
import { nativeGoldDensityGpml } from '../assay/gold-alloy.ts';
import { gyRelativeSd, gySampleMassG } from '../assay/gy-sampling.ts';
import type { SampledMaterial } from '../assay/gy-sampling.ts';
import type { Finding } from '../finding.ts';
import {
  lotSpecificGravity,
  mineralSpecificGravities,
  mixtureSpecificGravity,
} from '../smelting/specific-gravity.ts';
import type { Mineral } from '../smelting/minerals.ts';
import { mineralShares } from './check-charge.ts';
import { elementAssays } from './lot-assays.ts';
import type { LotFacts, TrialFacts } from './records.ts';

export type SampledLot = Pick<LotFacts, 'minerals' | 'dryMassKg' | 'sampling'>;

/** Relative standard deviations that the taking of a sample brings with it, and what is to be said of them. */
export interface SamplingError {
  relativeSdGold: number;
  relativeSdSilver: number;
  findings: Finding[];
}

/** Minerals that carry silver where it is not in the gold. */
const sulfides: readonly Mineral[] = [
  'pyrite',
  'pyrrhotite',
  'chalcopyrite',
  'galena',
  'sphalerite',
  'arsenopyrite',
  'stibnite',
  'chalcocite',
];

/**
 * Gold grade that a sampling error is worked with, g/t: the combined lab assays of the lot, else what its parted
 * test smelts that count gave in all, over their samples in all, so that no test is judged by its own result alone.
 * Null where neither is there.
 */
export function goldGptForSampling(
  lot: Pick<LotFacts, 'labAssays'>,
  trials: readonly Pick<TrialFacts, 'smelts'>[],
): number | null {
  const assayed = elementAssays(lot.labAssays, 'Au')?.together.combined?.value;
  if (assayed !== undefined && assayed > 0) return assayed;
  const parted = trials
    .flatMap((trial) => trial.smelts)
    .filter((smelt) => smelt.setAsideReason === null && smelt.partedGoldMg !== null);
  const goldMg = parted.reduce((sum, smelt) => sum + (smelt.partedGoldMg ?? 0), 0);
  const sampleG = parted.reduce((sum, smelt) => sum + smelt.sampleMassG, 0);
  return goldMg > 0 ? (1000 * goldMg) / sampleG : null;
}

function goldMaterial(
  sampling: Extract<NonNullable<LotFacts['sampling']>, { model: 'gy' }>,
  lot: SampledLot,
  goldGpt: number,
): SampledMaterial {
  return {
    topSizeMm: sampling.topSizeMm,
    liberationSizeMm: sampling.liberationSizeMm,
    mineralFrac: (goldGpt * 1e-6) / sampling.goldFrac,
    mineralDensityGpml: sampling.grainDensityGpml ?? nativeGoldDensityGpml(sampling.goldFrac),
    gangueDensityGpml: lotSpecificGravity({ minerals: mineralShares(lot) }),
    shapeFactor: sampling.shapeFactor,
    liberationExponent: sampling.liberationExponent,
  };
}

/** Silver in the sulfides, all of them taken as its carrier and as free; null where they are not named or are all there is. */
function sulfideMaterial(lot: SampledLot, topSizeMm: number): SampledMaterial | null {
  const shares = mineralShares(lot);
  const carriers = shares.filter(({ mineral }) => sulfides.includes(mineral));
  const mineralFrac = carriers.reduce((sum, { massFrac }) => sum + massFrac, 0);
  if (!(mineralFrac > 0 && mineralFrac < 1)) return null;
  const density = mixtureSpecificGravity(
    carriers.map(({ mineral, massFrac }) => ({
      massFrac: massFrac / mineralFrac,
      specificGravity: mineralSpecificGravities[mineral],
    })),
  );
  return {
    topSizeMm,
    liberationSizeMm: topSizeMm,
    mineralFrac,
    mineralDensityGpml: density,
    gangueDensityGpml: mineralSpecificGravities.quartz,
  };
}

/**
 * Sampling error of one sample of a lot, as far as the lot's record tells: of gold by Gy's formula (`gyRelativeSd`)
 * or from the number of its grains (`coarseGoldSampling`); of silver the same where it sits in the gold, else by
 * Gy's formula with the sulfides as its carrier, or none where the lot does not tell their share or its top size.
 * Null where nothing is recorded or the gold grade is not known.
 */
export function samplingError({
  lot,
  goldGpt,
  sampleMassG,
}: {
  lot: SampledLot;
  goldGpt: number | null;
  sampleMassG: number;
}): SamplingError | null {
  const { sampling } = lot;
  if (sampling === null || goldGpt === null || !(goldGpt > 0 && sampleMassG > 0)) return null;
  const lotMassG = 1000 * Number(lot.dryMassKg);
  if (sampling.model === 'coarse-gold') {
    const worked = coarseGoldSampling({
      ...grainsOf(sampling),
      gradeGpt: goldGpt,
      sampleMassG,
      lotMassG,
      wantedRelativeSd: 0.1,
    });
    if (worked === null) return null;
    const { relativeSd, findings } = worked;
    return {
      relativeSdGold: relativeSd,
      relativeSdSilver: sampling.silverWithGold ? relativeSd : 0,
      findings,
    };
  }
  const gold = gyRelativeSd({ material: goldMaterial(sampling, lot, goldGpt), sampleMassG, lotMassG });
  const carrier = sampling.silverWithGold ? null : sulfideMaterial(lot, sampling.topSizeMm);
  const silver = carrier === null ? 0 : gyRelativeSd({ material: carrier, sampleMassG, lotMassG });
  return {
    relativeSdGold: gold,
    relativeSdSilver: sampling.silverWithGold ? gold : silver,
    findings: [],
  };
}

function grainsOf(sampling: Extract<NonNullable<LotFacts['sampling']>, { model: 'coarse-gold' }>) {
  return {
    shape: sampling.grainShape,
    sizes: [{ diameterMm: sampling.grainSizeMm, goldShareFrac: 1 }],
    grainDensityGpml: sampling.grainDensityGpml ?? nativeGoldDensityGpml(sampling.goldFrac),
    grainGoldFrac: sampling.goldFrac,
  };
}

/** Sample mass, g, that brings the sampling error of gold down to a relative standard deviation; null as `samplingError`. */
export function sampleMassForG({
  lot,
  goldGpt,
  relativeSd,
}: {
  lot: SampledLot;
  goldGpt: number | null;
  relativeSd: number;
}): number | null {
  const { sampling } = lot;
  if (sampling === null || goldGpt === null || !(goldGpt > 0 && relativeSd > 0)) return null;
  const lotMassG = 1000 * Number(lot.dryMassKg);
  if (sampling.model === 'gy')
    return gySampleMassG({ material: goldMaterial(sampling, lot, goldGpt), relativeSd, lotMassG });
  return (
    coarseGoldSampling({
      ...grainsOf(sampling),
      gradeGpt: goldGpt,
      sampleMassG: lotMassG,
      lotMassG,
      wantedRelativeSd: relativeSd,
    })?.sampleMassForWantedG ?? null
  );
}
