/** As a `ref`: what appears in place of the button that was pressed takes over its focus. */
export function takeFocus(element: HTMLElement | null): void {
  element?.focus({ preventScroll: true });
}
