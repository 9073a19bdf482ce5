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
  suppliesQuery,
  treatmentsQuery,
  trialsOfLotsQuery,
} from './bench-queries.ts';

export interface TrialOfLot {
  lot: Lot;
  /** As it stands in the books. */
  trial: TrialWithSmelts;
  worked: WorkedTrial;
}

/** Every trial of some lots, worked up, lot by lot. */
export function useWorkedTrials(lots: readonly Lot[]): TrialOfLot[] {
  const [trials, balances, cupellation, supplies, treatments] = useSuspenseQueries({
    queries: [
      trialsOfLotsQuery(lots.map(({ id }) => id)),
      balancesQuery,
      cupellationQuery,
      suppliesQuery,
      treatmentsQuery,
    ],
  });
  return useMemo(
    () =>
      lots.flatMap((lot) => {
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
    [lots, trials.data, balances.data, cupellation.data, supplies.data, treatments.data],
  );
}
