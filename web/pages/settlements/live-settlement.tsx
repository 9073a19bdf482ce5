import { useEffect, useState } from 'react';
import { useQuery } from '@tanstack/react-query';
import { ApiProblem } from '../../api.ts';
import type { Problem } from '../../api.ts';
import type { Settlement } from '../../../api/calc/settlement/statement.ts';
import type { StatementEntry } from '../../../api/schemas/statement.ts';
import { previewQuery } from './settlement-queries.ts';

const workAfterMs = 400;

export interface LiveSettlement {
  /** The last settlement that could be worked out; null before the first. */
  settlement: Settlement | null;
  /** What is typed has moved on since. */
  stale: boolean;
  /** Why the newest could not be worked out; null where it could or is being worked. */
  problem: Problem | null;
}

/** The settlement of what is typed, worked by the server shortly after the typing stops. */
export function useLiveSettlement(entry: StatementEntry | null): LiveSettlement {
  const wanted = JSON.stringify(entry);
  const [asked, setAsked] = useState(wanted);
  useEffect(() => {
    const timer = setTimeout(() => setAsked(wanted), workAfterMs);
    return () => clearTimeout(timer);
  }, [wanted]);
  const answer = useQuery(previewQuery(JSON.parse(asked) as StatementEntry | null));
  if (answer.error !== null && !(answer.error instanceof ApiProblem)) throw answer.error;
  const [shown, setShown] = useState<Settlement | null>(null);
  if (answer.data !== undefined && answer.data !== shown) setShown(answer.data);
  return {
    settlement: answer.data ?? shown,
    stale: wanted !== asked || answer.isFetching || answer.isPlaceholderData || answer.error !== null,
    problem: wanted === asked && answer.error instanceof ApiProblem ? answer.error.problem : null,
  };
}
