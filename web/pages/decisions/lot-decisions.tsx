import { useQuery } from '@tanstack/react-query';
import { decisionsOfLotQuery } from '../../lib/decision-queries.ts';
import { DecisionTable } from './decision-table.tsx';

/** What was decided about a lot, on the lot's own page; nothing where nothing was recorded. */
export function LotDecisions(props: { lotId: string }) {
  const { data: decisions } = useQuery(decisionsOfLotQuery(props.lotId));
  if (decisions === undefined || decisions.length === 0) return null;
  return (
    <>
      <h2>Decisions</h2>
      <DecisionTable decisions={decisions} withLot={false} />
    </>
  );
}
