import { useMemo } from 'react';
import { Outlet } from '@tanstack/react-router';
import { useQuery } from '@tanstack/react-query';
import { ApiProblem } from './api.ts';
import { millQuery } from './lib/mill.ts';
import { OwnerProvider, plainChoices } from './lib/owner.ts';
import { Busy } from './parts/busy.tsx';
import { ProblemNotice } from './parts/problem-notice.tsx';
import { Shell } from './shell.tsx';

/**
 * The frame of all pages. Pages wait for the mill's settings, because no figure
 * may be shown, and none typed, in units that turn out to be others.
 */
export function App() {
  const { data: mill, error, refetch } = useQuery({ ...millQuery, throwOnError: false });
  const choices = useMemo(() => mill ?? plainChoices, [mill]);
  if (error !== null && !(error instanceof ApiProblem)) throw error;
  return (
    <OwnerProvider value={choices}>
      <Shell millName={mill?.name ?? null} isDemo={mill?.isDemo === true}>
        {mill !== undefined ? (
          <Outlet />
        ) : error !== null ? (
          <ProblemNotice problem={error.problem}>
            <button type="button" onClick={() => void refetch()}>
              Try again
            </button>
          </ProblemNotice>
        ) : (
          <Busy label="Opening the mill’s books" />
        )}
      </Shell>
    </OwnerProvider>
  );
}
