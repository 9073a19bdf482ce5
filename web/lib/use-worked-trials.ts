import { useMemo } from 'react';
import { useSuspenseQueries } from '@tanstack/react-query';
import { smeltFacts } from '../../api/calc/facts/smelt-from-record.ts';
import { workTrialFacts } from '../../api/calc/facts/lot-evidence.ts';
import type { WorkedTrial } from '../../api/calc/facts/lot-evidence.ts';
import type { Lot } from '../../api/schemas/lot.ts';
import type { TrialWithSmelts } from '../../api/schemas/test-smelt.ts';
import {
  balancesQuery,
  cupellationQuery,
  lotsQuery,
  suppliesQuery,
  treatmentsQuery,
  trialsQuery,
} from './bench-queries.ts';

export interface TrialOfLot {
  lot: Lot;
  /** As it stands in the books. */
  trial: TrialWithSmelts;
  worked: WorkedTrial;
}

/** Every trial of the mill, worked up, lot by lot. */
export function useWorkedTrials(): TrialOfLot[] {
  const [lots, trials, balances, cupellation, supplies, treatments] = useSuspenseQueries({
    queries: [lotsQuery, trialsQuery, balancesQuery, cupellationQuery, suppliesQuery, treatmentsQuery],
  });
  return useMemo(
    () =>
      lots.data.flatMap((lot) => {
        const ofLot = trials.data.filter((trial) => trial.lotId === lot.id);
        const facts = smeltFacts(
          {
            lot,
            balances: balances.data,
            cupellation: cupellation.data,
            supplies: supplies.data,
            treatments: treatments.data,
          },
          ofLot,
        );
        return ofLot.map((trial) => ({ lot, trial, worked: workTrialFacts(trial, facts) }));
      }),
    [lots.data, trials.data, balances.data, cupellation.data, supplies.data, treatments.data],
  );
}
