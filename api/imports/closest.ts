const LONGEST_COMPARED = 80;

/** The names that a misspelt one was most likely meant to be, nearest first. */
export function closest(name: string, known: readonly string[], most = 3): string[] {
  const wanted = comparable(name);
  return known
    .map((candidate) => ({ candidate, edits: editsBetween(wanted, comparable(candidate)) }))
    .sort((a, b) => a.edits - b.edits || (a.candidate < b.candidate ? -1 : 1))
    .slice(0, most)
    .map(({ candidate }) => candidate);
}

/** `closest` as the end of a sentence: what is known, or that nothing is. */
export function closestKnown(name: string, known: readonly string[], plural: string): string {
  const [first, ...others] = closest(name, known);
  if (first === undefined) return `there are no ${plural} yet`;
  return `the closest known: ${[first, ...others].join(', ')}`;
}

function comparable(name: string): string {
  return name.slice(0, LONGEST_COMPARED).toLowerCase();
}

/**
 * Insertions, deletions and substitutions of a character that turn one text into the other (Levenshtein,
 * "Binary codes capable of correcting deletions, insertions, and reversals", 1966).
 */
function editsBetween(from: string, to: string): number {
  let above = Array.from({ length: to.length + 1 }, (_, at) => at);
  for (let row = 1; row <= from.length; row += 1) {
    const current = [row];
    for (let at = 1; at <= to.length; at += 1) {
      const replaced = (above[at - 1] ?? 0) + (from[row - 1] === to[at - 1] ? 0 : 1);
      current.push(Math.min(replaced, (above[at] ?? 0) + 1, (current[at - 1] ?? 0) + 1));
    }
    above = current;
  }
  return above[to.length] ?? 0;
}
