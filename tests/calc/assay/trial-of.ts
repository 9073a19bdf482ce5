import type { TestSmeltResult } from '../../../api/calc/assay/test-smelt.ts';
import { workTestSmelt } from '../../../api/calc/assay/test-smelt.ts';
import { workTrial } from '../../../api/calc/assay/trial.ts';
import type { TrialResult } from '../../../api/calc/assay/trial.ts';
import { smeltOf } from './smelt-of.ts';

/**
 * An invented test smelt with a given gold grade, parted on a balance whose weighing makes `uGpt` of it: a sample
 * of 1000 g, so that 1 mg is 1 g/t.
 */
export function smeltWithGold(goldGpt: number, uGpt: number): TestSmeltResult {
  return workTestSmelt(
    smeltOf({
      sampleMassG: 1000,
      partedGoldMg: goldGpt,
      beadMg: goldGpt * 10,
      sampleBalance: { name: 'bench balance', readabilityG: 0, repeatabilityG: 0 },
      beadBalance: { name: 'bead balance', readabilityG: 0, repeatabilityG: uGpt / 1000 },
    }),
  );
}

export function trialWithGold(grades: readonly number[], uGpt: number): TrialResult {
  return workTrial(grades.map((grade) => smeltWithGold(grade, uGpt)));
}
