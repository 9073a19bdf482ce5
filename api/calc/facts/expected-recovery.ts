import type { Metal } from '../evidence/lot-evidence.ts';
import { METAL_NAMES, METALS } from '../evidence/lot-evidence.ts';
import { expectedRecovery } from '../evidence/recovery-history.ts';
import type { Finding } from '../finding.ts';
import type { TreatmentFacts, TreatmentHistoryFacts } from './records.ts';

type StatedTreatment = Pick<
  TreatmentFacts,
  | 'id'
  | 'name'
  | 'goldRecoveryMeanFrac'
  | 'goldRecoverySdFrac'
  | 'silverRecoveryMeanFrac'
  | 'silverRecoverySdFrac'
>;

/** What is stated of a treatment before any test. */
export function statedRecovery(treatment: StatedTreatment): Record<Metal, { mean: number; sd: number }> {
  return {
    Au: { mean: treatment.goldRecoveryMeanFrac, sd: treatment.goldRecoverySdFrac },
    Ag: { mean: treatment.silverRecoveryMeanFrac, sd: treatment.silverRecoverySdFrac },
  };
}

/** The recovery to be expected of a treatment on this lot before its tests, and on how many other lots that rests. */
export function expectedOfTreatment(
  treatment: StatedTreatment,
  history: readonly TreatmentHistoryFacts[],
): { recoveryPrior: Record<Metal, { mean: number; sd: number }>; findings: Finding[] } {
  const own = history.filter(({ treatmentId }) => treatmentId === treatment.id);
  const stated = statedRecovery(treatment);
  const recoveryPrior = {
    Au: expectedRecovery(
      stated.Au,
      own.flatMap(({ Au }) => Au ?? []),
    ),
    Ag: expectedRecovery(
      stated.Ag,
      own.flatMap(({ Ag }) => Ag ?? []),
    ),
  };
  if (own.length === 0) return { recoveryPrior, findings: [] };
  const percent = ({ mean, sd }: { mean: number; sd: number }): string =>
    `${(100 * mean).toFixed(1)} ± ${(200 * sd).toFixed(1)} %`;
  const told = METALS.filter((metal) => own.some((lot) => lot[metal] !== null)).map(
    (metal) => `${METAL_NAMES[metal]} ${percent(recoveryPrior[metal])} (stated: ${percent(stated[metal])})`,
  );
  return {
    recoveryPrior,
    findings: [
      {
        code: 'recovery-from-history',
        level: 'note',
        path: '/treatments',
        sentence: `What is expected of “${treatment.name}” before the tests of this lot rests on its tests of ${own.length === 1 ? 'one other lot' : `${own.length} other lots`} (${own.map(({ lotCode }) => lotCode).join(', ')}) as well as on what was stated of it: ${told.join(', ')}.`,
      },
    ],
  };
}
