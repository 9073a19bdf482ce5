import { workTestSmelt, type TestSmeltResult } from '../assay/test-smelt.ts';
import { workTrial, type TrialResult } from '../assay/trial.ts';
import type { Finding } from '../finding.ts';
import { gptUnit } from '../assay/figures.ts';
import { inferLot, type InferLotResult } from '../evidence/infer-lot.ts';
import type { MetalObservation, TreatmentPrior } from '../evidence/lot-evidence.ts';
import { COMMON_REPLICATE_SD } from '../evidence/lot-evidence.ts';
import { gptPerOzPerShortTon } from '../units.ts';
import { expectedOfTreatment } from './expected-recovery.ts';
import { labObservations } from './lab-observations.ts';
import { partObservation, withoutAssaysOfParts } from './part-observation.ts';
import type { EvidenceFacts, TreatmentFacts, TrialFacts } from './records.ts';
import type { SmeltFacts } from './smelt-from-record.ts';
import { smeltFacts, smeltFromRecord } from './smelt-from-record.ts';

export interface WorkedSmelt {
  id: string;
  sample: string;
  /** Why the owner leaves the test out; it stays visible. */
  setAsideReason: string | null;
  result: TestSmeltResult;
}

export interface WorkedTrial {
  id: string;
  name: string;
  treatmentId: string | null;
  treatmentName: string | null;
  smelts: WorkedSmelt[];
  /** Worked from the tests that are not set aside; null where there is none. */
  result: TrialResult | null;
}

export interface LotEvidence {
  trials: WorkedTrial[];
  inference: InferLotResult;
}

/** Before any test: a recovery that nothing is known about but that it is a smelt. From memory. */
const UNNAMED_TREATMENT_RECOVERY = { mean: 0.85, sd: 0.12 };

/** The id under which a trial without a treatment is known to the inference. */
const ownTreatmentId = (trialId: string): string => `trial:${trialId}`;

/** One trial of a lot worked up, its tests one by one and together; tests set aside do not count. */
export function workTrialFacts(
  trial: TrialFacts,
  facts: SmeltFacts & { treatments: readonly Pick<TreatmentFacts, 'id' | 'name'>[] },
): WorkedTrial {
  const smelts = trial.smelts.map((record): WorkedSmelt => {
    const { smelt, findings } = smeltFromRecord(record, facts);
    const result = workTestSmelt(smelt);
    return {
      id: record.id,
      sample: record.sample,
      setAsideReason: record.setAsideReason,
      result: { ...result, findings: [...result.findings, ...findings] },
    };
  });
  const counted = smelts.filter((smelt) => smelt.setAsideReason === null);
  return {
    id: trial.id,
    name: trial.name,
    treatmentId: trial.treatmentId,
    treatmentName: facts.treatments.find((one) => one.id === trial.treatmentId)?.name ?? null,
    smelts,
    result: counted.length === 0 ? null : workTrial(counted.map((smelt) => smelt.result)),
  };
}

function observationsOf(
  trials: readonly WorkedTrial[],
  target: 'goldGpt' | 'silverGpt' | 'goldPlusSilverGpt',
  admit: (result: TestSmeltResult) => boolean = () => true,
): MetalObservation[] {
  return trials.flatMap((trial) =>
    trial.smelts.flatMap(({ setAsideReason, sample, result }) => {
      const grade = result[target];
      if (setAsideReason !== null || grade === null || !admit(result)) return [];
      return [
        {
          treatmentId: trial.treatmentId ?? ownTreatmentId(trial.id),
          gradeGpt: grade.value,
          uGpt: grade.u,
          label: `${trial.name}, ${sample}`,
        },
      ];
    }),
  );
}

/**
 * Spread of samples beyond what they state. The common spread of gold is wider than silver's for its coarse grains
 * (`COMMON_REPLICATE_SD`); where the error of taking a sample is stated, that part is not counted twice.
 */
function replicateSpread(facts: EvidenceFacts, goldGpt: number | null): typeof COMMON_REPLICATE_SD {
  const stated = facts.lot.sampling !== null && goldGpt !== null;
  return stated ? { ...COMMON_REPLICATE_SD, Au: COMMON_REPLICATE_SD.Ag } : COMMON_REPLICATE_SD;
}

/** That test smelts of the lot are corrected for losses in cupelling, said once for all of them. */
function correctedFindings(trials: readonly WorkedTrial[]): Finding[] {
  const corrected = trials
    .flatMap((trial) => trial.smelts)
    .filter((smelt) => smelt.setAsideReason === null)
    .flatMap(({ result }) => result.findings.filter(({ code }) => code === 'cupellation-corrected'));
  const [first] = corrected;
  return first === undefined
    ? []
    : [
        {
          ...first,
          sentence: `${corrected.length === 1 ? 'One test smelt is' : `${corrected.length} test smelts are`} corrected for losses in cupelling, by the setting of the mill.`,
        },
      ];
}

/**
 * All that the test smelts and lab assays of a lot say: each test and trial
 * worked up, and the true grade and the recoveries inferred from all of them
 * together (`inferLot`). Tests set aside are worked but do not count. A trial
 * without a treatment is evidence about the grade under a recovery of its own.
 */
export function workLot(
  recorded: EvidenceFacts,
  { drawCount, seed }: { drawCount: number; seed: number },
): LotEvidence {
  const { facts, findings: copied } = withoutAssaysOfParts(recorded);
  const worked = smeltFacts(facts, facts.trials);
  const trials = facts.trials.map((trial) => workTrialFacts(trial, worked));
  const historyFindings: Finding[] = [];
  const treatments: TreatmentPrior[] = facts.treatments
    .filter((one) => !one.retired || trials.some((trial) => trial.treatmentId === one.id))
    .map((one) => {
      const { recoveryPrior, findings } = expectedOfTreatment(one, facts.history);
      historyFindings.push(...findings);
      return { id: one.id, name: one.name, recoveryPrior };
    });
  for (const trial of trials)
    if (trial.treatmentId === null)
      treatments.push({
        id: ownTreatmentId(trial.id),
        name: trial.name,
        recoveryPrior: { Au: UNNAMED_TREATMENT_RECOVERY, Ag: UNNAMED_TREATMENT_RECOVERY },
      });
  const gold = labObservations(facts.lot, 'Au', worked.samplingGoldGpt);
  const silver = labObservations(facts.lot, 'Ag', worked.samplingGoldGpt);
  const goldOfParts = partObservation(facts.madeFrom ?? [], 'Au');
  const silverOfParts = partObservation(facts.madeFrom ?? [], 'Ag');
  const inference = inferLot({
    metal: {
      Au: {
        smelts: observationsOf(trials, 'goldGpt'),
        labs: [...gold.observations, ...goldOfParts.observations],
      },
      Ag: {
        smelts: observationsOf(trials, 'silverGpt'),
        labs: [...silver.observations, ...silverOfParts.observations],
      },
    },
    unparted: observationsOf(trials, 'goldPlusSilverGpt', (result) => result.goldGpt === null),
    treatments,
    replicateSdPrior: replicateSpread(facts, worked.samplingGoldGpt),
    gradeUnit:
      facts.units?.gradeUnit === 'oz/short ton'
        ? { name: 'oz/short ton', gpt: gptPerOzPerShortTon }
        : gptUnit,
    drawCount,
    seed,
  });
  const findings = [
    ...inference.findings,
    ...gold.findings,
    ...silver.findings,
    ...goldOfParts.findings,
    ...silverOfParts.findings,
    ...copied,
    ...correctedFindings(trials),
    ...historyFindings,
  ];
  return { trials, inference: { ...inference, findings } };
}
