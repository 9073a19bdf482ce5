import { useEffect, useMemo } from 'react';
import { Outlet, useLocation } from '@tanstack/react-router';
import { useQuery, useQueryClient } from '@tanstack/react-query';
import { ApiProblem, signedOut } from './api.ts';
import { millQuery } from './lib/mill.ts';
import { OwnerProvider, plainChoices } from './lib/owner.ts';
import { ActorProvider, ClosedProvider, sessionQuery } from './lib/session.ts';
import type { Actor } from './lib/session.ts';
import { CustomerPage } from './pages/accounts/customer-page.tsx';
import { SignInPage } from './pages/sign-in/sign-in-page.tsx';
import { Busy } from './parts/busy.tsx';
import { ProblemNotice } from './parts/problem-notice.tsx';
import { Shell } from './shell.tsx';

/** The frame of all pages: they stand behind the sign-in, but for the one where a password is chosen. */
export function App() {
  const { data: session, error, refetch } = useQuery({ ...sessionQuery, throwOnError: false });
  const path = useLocation({ select: ({ pathname }) => pathname });
  const client = useQueryClient();
  useEffect(() => {
    const askAgain = (): void =>
      void client.invalidateQueries({ queryKey: sessionQuery.queryKey, exact: true });
    signedOut.addEventListener('signed-out', askAgain);
    return () => signedOut.removeEventListener('signed-out', askAgain);
  }, [client]);
  if (session === undefined)
    return (
      <Shell millName={null} isDemo={false} actor={null}>
        <Opening error={error} again={() => void refetch()} />
      </Shell>
    );
  if (session.actor === null)
    return (
      <Shell millName={null} isDemo={false} actor={null}>
        {path === '/set-password' ? <Outlet /> : <SignInPage />}
      </Shell>
    );
  return <Books actor={session.actor} closed={session.closed} path={path} />;
}

/** What customers have beside their lots and statements. */
const forCustomers = ['/account', '/set-password'];

/**
 * Pages wait for the mill's settings, because no figure may be shown, and none typed, in units that turn out to be
 * others.
 */
function Books(props: { actor: Actor; closed: readonly string[]; path: string }) {
  const { actor, closed, path } = props;
  const { data: mill, error, refetch } = useQuery({ ...millQuery, throwOnError: false });
  const choices = useMemo(() => mill ?? plainChoices, [mill]);
  return (
    <ActorProvider value={actor}>
      <ClosedProvider value={closed}>
        <OwnerProvider value={choices}>
          <Shell millName={mill?.name ?? null} isDemo={mill?.isDemo === true} actor={actor}>
            {mill === undefined ? (
              <Opening error={error} again={() => void refetch()} />
            ) : actor.role === 'customer' && !forCustomers.includes(path) ? (
              <CustomerPage />
            ) : (
              <Outlet />
            )}
          </Shell>
        </OwnerProvider>
      </ClosedProvider>
    </ActorProvider>
  );
}

/** Until the first answers have come, or in place of them. */
function Opening(props: { error: Error | null; again: () => void }) {
  const { error, again } = props;
  if (error === null) return <Busy label="Opening the mill’s books" />;
  if (!(error instanceof ApiProblem)) throw error;
  return (
    <ProblemNotice problem={error.problem}>
      <button type="button" onClick={again}>
        Try again
      </button>
    </ProblemNotice>
  );
}
