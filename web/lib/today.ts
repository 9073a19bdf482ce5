import { formatISO } from 'date-fns';

/** Today's date here, as an ISO date: what a test smelt or a lot is dated unless the owner says otherwise. */
export function todayHere(now: Date = new Date()): string {
  return formatISO(now, { representation: 'date' });
}
