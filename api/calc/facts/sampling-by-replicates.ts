import { ingamellsConstant } from '../assay/ingamells.ts';
import type { RepeatSamples, SamplingConstant } from '../assay/ingamells.ts';
import type { WorkedTrial } from './lot-evidence.ts';
import type { TrialFacts } from './records.ts';

/**
 * Ingamells' sampling constant of a lot from the replicates of its trials (`ingamellsConstant`), the tests that are set
 * aside left out. Null without two tests of one trial that gave the metal.
 */
export function samplingByReplicates({
  trials,
  worked,
  metal,
}: {
  trials: readonly Pick<TrialFacts, 'smelts'>[];
  worked: readonly Pick<WorkedTrial, 'smelts'>[];
  metal: 'gold' | 'silver';
}): SamplingConstant | null {
  const massOf = new Map(
    trials.flatMap((trial) => trial.smelts.map(({ id, sampleMassG }) => [id, sampleMassG] as const)),
  );
  return ingamellsConstant(
    worked.map(({ smelts }): RepeatSamples =>
      smelts.flatMap(({ id, setAsideReason, result }) => {
        const grade = result[`${metal}Gpt`];
        const massG = massOf.get(id);
        if (setAsideReason !== null || grade === null || massG === undefined) return [];
        const weighing = result.budget.filter(({ target, kind }) => target === metal && kind === 'weighing');
        return [{ massG, value: grade.value, uWeighing: Math.hypot(...weighing.map(({ uGpt }) => uGpt)) }];
      }),
    ),
  );
}
