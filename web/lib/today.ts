/** Today's date here, as an ISO date: what a test smelt or a lot is dated unless the owner says otherwise. */
export function todayHere(now: Date = new Date()): string {
  const two = (value: number): string => String(value).padStart(2, '0');
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}
