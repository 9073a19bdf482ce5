/** Milliseconds as the report writes them. */
export const rounded = (ms: number): string => (ms < 10 ? ms.toFixed(1) : Math.round(ms).toString());

/** The first run, before anything is warm, and the fastest of the others: what the machine can do undisturbed. */
export function firstAndBest<Run>(runs: Run[], of: (run: Run) => number): { first: number; best: number } {
  const [first = NaN, ...others] = runs.map(of);
  return { first, best: others.length === 0 ? first : Math.min(...others) };
}

/** A table with its columns set out evenly, the first to the left and figures to the right. */
export function table(head: string[], rows: string[][]): string {
  const widths = head.map((_, place) => Math.max(3, ...[head, ...rows].map((cells) => cells[place]!.length)));
  const line = (cells: string[]) =>
    `| ${cells.map((cell, place) => (place === 0 ? cell.padEnd(widths[place]!) : cell.padStart(widths[place]!))).join(' | ')} |`;
  const rule = widths.map((width, place) => (place === 0 ? '-'.repeat(width) : `${'-'.repeat(width - 1)}:`));
  return [line(head), line(rule), ...rows.map(line)].join('\n');
}
