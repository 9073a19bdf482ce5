const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];

/**
 * An ISO date as it prints: '2026-07-03' → '3 Jul 2026'; the month is a word, so that it cannot be taken for the day.
 * What is no date is left as it is: whoever entered it is told so elsewhere.
 */
export function dayWords(isoDate: string): string {
  const [, year = '', month = '', day = ''] = /^(\d{4})-(\d{2})-(\d{2})$/.exec(isoDate) ?? [];
  const name = MONTHS[Number(month) - 1];
  return name === undefined ? isoDate : `${Number(day)} ${name} ${year}`;
}
