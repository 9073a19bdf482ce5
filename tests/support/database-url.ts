/** The same server and user, another database. */
export function databaseNamed(url: string, name: string): string {
  const changed = new URL(url);
  changed.pathname = `/${name}`;
  return changed.href;
}
