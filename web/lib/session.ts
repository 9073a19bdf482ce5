import { createContext, useContext } from 'react';
import { queryOptions } from '@tanstack/react-query';
import type { Role, Session } from '../../api/schemas/account.ts';
import { api, send } from '../api.ts';

/** Who is signed in, and whether anybody has to be. */
export const sessionQuery = queryOptions({
  queryKey: ['session'],
  queryFn: () => send(api.session.$get()),
  staleTime: 60_000,
});

export type Actor = NonNullable<Session['actor']>;

const ActorContext = createContext<Actor | null>(null);

export const ActorProvider = ActorContext.Provider;

/** Who is at this page. */
export function useActor(): Actor {
  const actor = useContext(ActorContext);
  if (actor === null) throw new Error('Pages stand only behind the sign-in.');
  return actor;
}

const ClosedContext = createContext<readonly string[]>([]);

export const ClosedProvider = ClosedContext.Provider;

/** Whether a change, such as `PUT /mill`, is closed to whoever is at this page. */
export function useIsClosed(change: string): boolean {
  return useContext(ClosedContext).includes(change);
}

export const roleWords: Record<Role, string> = {
  owner: 'owner',
  operator: 'operator',
  accountant: 'accountant',
  customer: 'customer',
};

/** What each role is for, in one sentence. */
export const roleSentences: Record<Role, string> = {
  owner: 'Sees and changes everything, and makes accounts.',
  operator:
    'Sees the books; enters lots, test smelts, batches, products and the day’s work. Changes no terms, prices or settlements.',
  accountant: 'Sees and downloads everything in the books, and changes nothing.',
  customer: 'Sees the lots that are marked as theirs and the statements issued to them, and nothing else.',
};

/** Signs out and forgets all that was shown. */
export async function signOut(): Promise<void> {
  await send(api.session.$delete());
  window.location.assign('/');
}
