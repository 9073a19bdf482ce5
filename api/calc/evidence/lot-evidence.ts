import type { GradeUnit } from '../assay/figures.ts';

/** Gold or silver: the metals a small mill is paid for here. */
export type Metal = 'Au' | 'Ag';
export const METALS = ['Au', 'Ag'] as const;
export const METAL_NAMES: Record<Metal, string> = { Au: 'gold', Ag: 'silver' };

/** What one test smelt of the lot recovered of one metal by one treatment, g/t on the as-received dry basis. */
export interface MetalObservation {
  treatmentId: string;
  gradeGpt: number;
  /** Standard uncertainty of this one result from weighing, blank and the like, without the spread between replicates. */
  uGpt: number;
  label: string;
}

/** A laboratory's assay of the lot for one metal, g/t dry. */
export interface LabObservation {
  gradeGpt: number;
  uGpt: number;
  label: string;
}

export interface MetalEvidence {
  smelts: MetalObservation[];
  labs: LabObservation[];
}

/** A way of working up the lot, with the recovery expected before this lot is tested (fractions, mean and standard deviation). */
export interface TreatmentPrior {
  id: string;
  name: string;
  recoveryPrior: Record<Metal, { mean: number; sd: number }>;
}

/** A lognormal belief: median in the field's unit, standard deviation of the natural logarithm. */
export interface LognormalPrior {
  median: number;
  sdLog: number;
}

export interface InferLotInput {
  metal: Record<Metal, MetalEvidence>;
  /** Beads weighed but not parted (gold + silver, g/t): they count where both metals are known by something else. */
  unparted?: MetalObservation[];
  treatments: TreatmentPrior[];
  drawCount: number;
  seed: number;
  /** True grade (g/t) before any evidence; left out: wide enough for any gravity concentrate. */
  gradePrior?: Record<Metal, LognormalPrior>;
  /** Relative spread between samples of the lot beyond their stated uncertainties; sdLog 0 takes it as known. */
  replicateSdPrior?: Record<Metal, LognormalPrior>;
  /** The unit that sentences tell grades in; left out: g/t. */
  gradeUnit?: GradeUnit;
}

/** Joint draws of what is not known of a lot; draw n of every array belongs together. Grades in g/t dry, recoveries as fractions. */
export interface LotDraws {
  drawCount: number;
  seed: number;
  gradeGpt: Record<Metal, Float64Array>;
  recoveryFrac: Record<string, Record<Metal, Float64Array>>;
  /** Relative spread between samples of the lot: what a further test or assay would scatter by. */
  replicateSdFrac: Record<Metal, Float64Array>;
}

/**
 * Grade prior: a factor of 20 either way is one standard deviation, so that
 * 0.1 to 10,000 g/t is believed without evidence and evidence decides.
 */
export const WIDE_GRADE_PRIOR: Record<Metal, LognormalPrior> = {
  Au: { median: 50, sdLog: 3 },
  Ag: { median: 150, sdLog: 3 },
};

/**
 * Spread of replicate smelts and assays of one lot of gravity concentrate, beyond
 * weighing. From memory of common practice: gold commonly 3 to 20 % and silver 2 to
 * 12 % relative, coarse gold being the cause of the difference. A pair of
 * replicates that happens to agree moves it little.
 */
export const COMMON_REPLICATE_SD: Record<Metal, LognormalPrior> = {
  Au: { median: 0.08, sdLog: 0.8 },
  Ag: { median: 0.05, sdLog: 0.8 },
};
