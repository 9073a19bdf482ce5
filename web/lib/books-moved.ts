const NAME = 'poursheet:books-moved';

/** Says that the books are not as the pages show them: what is shown is asked for again. */
export function sayBooksMoved(): void {
  window.dispatchEvent(new Event(NAME));
}

/** Listens for it; gives a function that ends it. */
export function onBooksMoved(listener: () => void): () => void {
  window.addEventListener(NAME, listener);
  return () => window.removeEventListener(NAME, listener);
}
