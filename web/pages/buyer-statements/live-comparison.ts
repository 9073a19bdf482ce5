import { useEffect, useState } from 'react';
import { useQuery } from '@tanstack/react-query';
import type { StatementComparison } from '../../../api/calc/settlement/compare-statement.ts';
import { ApiProblem } from '../../api.ts';
import type { Problem } from '../../api.ts';
import { comparisonQuery } from './buyer-queries.ts';
import type { ComparisonEntry } from './buyer-queries.ts';

const workAfterMs = 500;

export interface LiveComparison {
  /** The last that could be worked out; null before the first. */
  comparison: StatementComparison | null;
  /** What is typed has moved on since. */
  stale: boolean;
  problem: Problem | null;
}

/** What is typed held against ours by the server, shortly after the typing stops; nothing is asked for null. */
export function useLiveComparison(entry: ComparisonEntry | null): LiveComparison {
  const wanted = JSON.stringify(entry);
  const [asked, setAsked] = useState(wanted);
  useEffect(() => {
    const timer = setTimeout(() => setAsked(wanted), workAfterMs);
    return () => clearTimeout(timer);
  }, [wanted]);
  const answer = useQuery(comparisonQuery(JSON.parse(asked) as ComparisonEntry | null));
  if (answer.error !== null && !(answer.error instanceof ApiProblem)) throw answer.error;
  const [shown, setShown] = useState<StatementComparison | null>(null);
  if (answer.data !== undefined && answer.data !== shown) setShown(answer.data);
  return {
    comparison: answer.data ?? shown,
    stale: wanted !== asked || answer.isFetching || answer.isPlaceholderData || answer.error !== null,
    problem: wanted === asked && answer.error instanceof ApiProblem ? answer.error.problem : null,
  };
}
