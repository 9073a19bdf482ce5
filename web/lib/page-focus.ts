/** The path whose heading was last shown; null until the first page stands. */
let shownPath: string | null = null;

/**
 * Whether a page that shows itself under a path should take the focus to its
 * heading: on every navigation, but not when the site is first opened, where
 * the browser's own start is expected.
 */
export function takesFocus(path: string): boolean {
  const arrived = shownPath !== null && shownPath !== path;
  shownPath = path;
  return arrived;
}
