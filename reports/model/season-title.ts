/** `Season 2031`, and no second "Season" where its name begins with one. */
export function seasonTitle(name: string): string {
  return /^season\b/i.test(name) ? name : `Season ${name}`;
}
