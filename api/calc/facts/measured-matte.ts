import type { TestSmeltFacts } from './records.ts';

/** Matte for each unit of mass of dry concentrate as received, as test smelts gave it. */
export interface MeasuredMatte {
  testCount: number;
  lowFrac: number;
  /** Matte in all over samples in all. */
  likelyFrac: number;
  highFrac: number;
}

/** What the test smelts of a lot by a treatment gave in matte; null where none that counts weighed it. */
export function measuredMatte(
  trials: readonly {
    treatmentId: string | null;
    smelts: readonly Pick<TestSmeltFacts, 'setAsideReason' | 'matteG' | 'sampleMassG'>[];
  }[],
  treatmentId: string,
): MeasuredMatte | null {
  const weighed = trials
    .filter((trial) => trial.treatmentId === treatmentId)
    .flatMap(({ smelts }) => smelts)
    .flatMap(({ setAsideReason, matteG, sampleMassG }) =>
      setAsideReason === null && matteG !== null && sampleMassG > 0 ? [{ matteG, sampleMassG }] : [],
    );
  if (weighed.length === 0) return null;
  const fracs = weighed.map(({ matteG, sampleMassG }) => matteG / sampleMassG);
  const sum = (values: number[]) => values.reduce((total, value) => total + value, 0);
  return {
    testCount: weighed.length,
    lowFrac: Math.min(...fracs),
    likelyFrac: sum(weighed.map(({ matteG }) => matteG)) / sum(weighed.map((one) => one.sampleMassG)),
    highFrac: Math.max(...fracs),
  };
}
