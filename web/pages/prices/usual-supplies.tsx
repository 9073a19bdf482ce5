import { useState } from 'react';
import { useNavigate } from '@tanstack/react-router';
import type { Supply } from '../../../api/schemas/supply.ts';
import type { Problem } from '../../api.ts';
import { api, ApiProblem, send } from '../../api.ts';
import { useBooksChanged } from '../../lib/bench-queries.ts';
import { ProblemNotice } from '../../parts/problem-notice.tsx';
import { usualSupplies } from './supply-words.ts';

/** A start for an empty list: the names of what a mill usually buys, those already there left alone. */
export function UsualSupplies(props: { supplies: readonly Supply[] }) {
  const { supplies } = props;
  const booksChanged = useBooksChanged();
  const navigate = useNavigate();
  const [problem, setProblem] = useState<Problem | null>(null);
  const [working, setWorking] = useState(false);
  const known = new Set(supplies.map(({ name }) => name.toLowerCase()));
  const missing = usualSupplies.filter(({ name }) => !known.has(name.toLowerCase()));
  if (supplies.length > 2 || missing.length === 0) return null;

  async function enter(): Promise<void> {
    if (working) return;
    setWorking(true);
    setProblem(null);
    try {
      for (const supply of missing) await send(api.supplies.$post({ json: supply }));
      await booksChanged();
      await navigate({ to: '/prices/enter' });
    } catch (error) {
      if (!(error instanceof ApiProblem)) throw error;
      setProblem(error.problem);
      await booksChanged();
    } finally {
      setWorking(false);
    }
  }

  return (
    <>
      <p>
        Usually bought: {missing.map(({ name }) => name.toLowerCase()).join(', ')}. They are entered without
        prices, which come next.
      </p>
      <p className="actions">
        <button type="button" aria-disabled={working} onClick={() => void enter()}>
          {working ? 'Entering them' : 'Enter the usual supplies'}
        </button>
      </p>
      {problem === null ? null : <ProblemNotice problem={problem} />}
    </>
  );
}
