import { addDays } from '../calc/calendar.ts';
import { Problem } from '../problem.ts';

/** Refuses a day that is still to come: nearly always a slip of the month. A day of grace, for it may be tomorrow where the mill is. */
export function requireNotToCome(now: Date, pointer: string, day: string, what: string): void {
  const today = now.toISOString().slice(0, 10);
  if (day <= addDays(today, 1)) return;
  throw new Problem('validation', `${what} cannot be of a day to come.`, {
    errors: [{ pointer, detail: `${what} of ${day} lies after today, ${today}.` }],
  });
}
