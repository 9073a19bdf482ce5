/** The route and path of the page that was last shown; null until the first page stands. */
let shownPlace: string | null = null;

/**
 * Whether the page at a place should take the focus to its
 * heading: on every navigation, but not when the site is first opened, where
 * the browser's own start is expected.
 */
export function takesFocus(place: string): boolean {
  const arrived = shownPlace !== null && shownPlace !== place;
  shownPlace = place;
  return arrived;
}

/** A page went out of sight with the focus on its heading: if it comes back, that is an arrival again. */
export function losesFocus(): void {
  if (shownPlace !== null) shownPlace = '';
}
