import type { MineralShare } from './minerals.ts';
import type { Reagent } from './reagents.ts';

export const treatmentKinds = ['as it is', 'oxidizing', 'roasted', 'iron'] as const;
/** Smelt as it is, with nitre, after a roast, or with metallic iron. */
export type TreatmentKind = (typeof treatmentKinds)[number];

export interface AdvisedAmount {
  reagent: Reagent;
  /** Per 100 g of concentrate as received, dry, before any roast. */
  gramsPerHundredG: number;
  /** One sentence for the owner. */
  why: string;
  source: string;
}

export interface AdviceWanted {
  minerals: readonly MineralShare[];
  treatment: TreatmentKind;
  /** Lead as metal, or reduced from litharge in the charge. */
  collector: 'lead' | 'litharge';
  /** Lead to collect with, g per 100 g of concentrate: 30 is common practice. */
  buttonLeadG?: number;
  /** Share of the sulfur driven off, for the roasted treatment; 1 is a dead roast. */
  sulfurRoastedFrac?: number;
  /** Of the raw lot, from a preliminary assay, g lead per g; null: from the minerals. */
  measuredReducingPower?: number | null;
  aimDegree?: number;
}

/** Recipes are proposed for this mass of lot, so that grams are parts per hundred. */
export const adviceLotMassG = 100;

export const adviceSources = {
  beringer: 'C. and J. J. Beringer, A Text-book of Assaying, 9th ed. 1904',
  fulton: 'C. H. Fulton, A Manual of Fire Assaying, 2nd ed. 1911, p. 60',
  stoichiometry: 'reaction by IUPAC 2021 atomic weights',
  commonPractice: 'common practice',
} as const;

/** A mass in a sentence, in whole grams. */
export const wholeG = (massG: number): string => `${Math.round(massG)} g`;
