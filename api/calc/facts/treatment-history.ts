import type { Metal } from '../evidence/lot-evidence.ts';
import { recoveryOfLot } from '../evidence/recovery-history.ts';
import { statedRecovery } from './expected-recovery.ts';
import { workLot } from './lot-evidence.ts';
import type { EvidenceFacts, TreatmentHistoryFacts } from './records.ts';

/** Few, but enough for a mean and a spread: a lot's recoveries are summed up to two figures. */
const SUMMARY = { drawCount: 1000, seed: 1 };

/**
 * What the tests of a lot say of each treatment that was tried on it, for use on other lots. It is worked from the
 * lot's own tests and assays and the treatments as stated, never from its history, so that no lot is counted twice.
 */
export function recoveriesOfLot(facts: Omit<EvidenceFacts, 'history'>): TreatmentHistoryFacts[] {
  const { inference } = workLot({ ...facts, history: [] }, SUMMARY);
  return facts.treatments.flatMap((treatment): TreatmentHistoryFacts[] => {
    const stated = statedRecovery(treatment);
    const of = (metal: Metal) => {
      const tests = inference.summary[metal].recoveries.find(
        ({ treatmentId }) => treatmentId === treatment.id,
      )?.testCount;
      const draws = inference.draws.recoveryFrac[treatment.id]?.[metal];
      return tests === undefined || tests === 0 || draws === undefined
        ? null
        : recoveryOfLot(draws, stated[metal]);
    };
    const [Au, Ag] = [of('Au'), of('Ag')];
    return Au === null && Ag === null ? [] : [{ treatmentId: treatment.id, lotCode: facts.lot.code, Au, Ag }];
  });
}
