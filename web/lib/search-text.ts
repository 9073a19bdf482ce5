/** All values of an address are plain texts: a what-if is read and written as it was typed. */
export function parseSearch(search: string): Record<string, string> {
  return Object.fromEntries(new URLSearchParams(search));
}

export function stringifySearch(search: Record<string, unknown>): string {
  const texts = Object.entries(search).filter(
    (entry): entry is [string, string] => typeof entry[1] === 'string',
  );
  const written = new URLSearchParams(texts).toString();
  return written === '' ? '' : `?${written}`;
}
