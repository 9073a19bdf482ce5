/** What went from one thing to another. */
export interface LineageStep {
  from: string;
  to: string;
  massKg: string | null;
}

export interface LineageLine {
  key: string;
  /** Steps away from where it begins. */
  depth: number;
  /** What went along, kg. */
  massKg: string | null;
  /** Told further up already: what is behind it is not told twice. */
  repeated: boolean;
}

/**
 * Everything behind a thing, or everything that came of it, as an indented list: each followed by what is behind it.
 * `order` gives the place of a thing among its fellows.
 */
export function lineageTree(
  steps: readonly LineageStep[],
  { of, towards, order }: { of: string; towards: 'from' | 'to'; order: (key: string) => number },
): LineageLine[] {
  const here = towards === 'from' ? 'to' : 'from';
  const next = new Map<string, LineageStep[]>();
  for (const step of steps) next.set(step[here], [...(next.get(step[here]) ?? []), step]);
  const told = new Set<string>();
  const lines: LineageLine[] = [];
  function tell(key: string, depth: number): void {
    const behind = (next.get(key) ?? []).toSorted((a, b) => order(a[towards]) - order(b[towards]));
    for (const step of behind) {
      const other = step[towards];
      const repeated = told.has(other);
      lines.push({ key: other, depth, massKg: step.massKg, repeated });
      if (repeated) continue;
      told.add(other);
      tell(other, depth + 1);
    }
  }
  tell(of, 0);
  return lines;
}

/** Of each thing the longest way to it, in steps, from what nothing is behind: the columns of a drawing. */
export function lineageColumns(keys: readonly string[], steps: readonly LineageStep[]): Map<string, number> {
  const column = new Map(keys.map((key) => [key, 0]));
  const behind = new Map<string, number>(keys.map((key) => [key, 0]));
  const onward = new Map<string, string[]>();
  for (const { from, to } of steps) {
    behind.set(to, (behind.get(to) ?? 0) + 1);
    onward.set(from, [...(onward.get(from) ?? []), to]);
  }
  const ready = keys.filter((key) => behind.get(key) === 0);
  for (let key = ready.shift(); key !== undefined; key = ready.shift())
    for (const to of onward.get(key) ?? []) {
      column.set(to, Math.max(column.get(to) ?? 0, (column.get(key) ?? 0) + 1));
      const left = (behind.get(to) ?? 1) - 1;
      behind.set(to, left);
      if (left === 0) ready.push(to);
    }
  return column;
}
