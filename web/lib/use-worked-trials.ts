import { useMemo } from 'react';
import { useSuspenseQueries } from '@tanstack/react-query';
import { workTrialFacts } from '../../api/calc/facts/lot-evidence.ts';
import type { WorkedTrial } from '../../api/calc/facts/lot-evidence.ts';
import type { Lot } from '../../api/schemas/lot.ts';
import type { TrialWithSmelts } from '../../api/schemas/test-smelt.ts';
import { balancesQuery, lotsQuery, suppliesQuery, treatmentsQuery, trialsQuery } from './bench-queries.ts';

export interface TrialOfLot {
  lot: Lot;
  /** As it stands in the books. */
  trial: TrialWithSmelts;
  worked: WorkedTrial;
}

/** Every trial of the mill, worked up, lot by lot. */
export function useWorkedTrials(): TrialOfLot[] {
  const [lots, trials, balances, supplies, treatments] = useSuspenseQueries({
    queries: [lotsQuery, trialsQuery, balancesQuery, suppliesQuery, treatmentsQuery],
  });
  return useMemo(
    () =>
      lots.data.flatMap((lot) =>
        trials.data
          .filter((trial) => trial.lotId === lot.id)
          .map((trial) => ({
            lot,
            trial,
            worked: workTrialFacts(trial, {
              lot,
              balances: balances.data,
              supplies: supplies.data,
              treatments: treatments.data,
            }),
          })),
      ),
    [lots.data, trials.data, balances.data, supplies.data, treatments.data],
  );
}
