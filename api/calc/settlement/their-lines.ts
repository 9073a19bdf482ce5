import { Dec, sumOf } from '../money.ts';
import type { Settlement, SettlementLine } from './statement.ts';

/** One line of the other party's statement, matched by the user to a line of ours. */
export interface TheirLine {
  /** Id of the line of ours that it answers to; null where we have none. */
  id: string | null;
  label: string;
  /** Signed as on our statement: deductions negative; null where the line is not money. */
  amount: string | null;
  /** The mass, grade or price where the line is not money. */
  result: string | null;
  /** What they multiply where the line is money; shown beside ours, the search does not use it. */
  quantity?: string | null;
}

/** Lines of theirs that answer to the same line of ours, added up; of figures that are not money the first. */
export function gathered(theirs: readonly TheirLine[]): TheirLine[] {
  const lines: TheirLine[] = [];
  for (const line of theirs) {
    const at = line.id === null ? -1 : lines.findIndex((one) => one.id === line.id);
    const before = lines[at];
    if (before === undefined) lines.push(line);
    else if (before.amount !== null && line.amount !== null) {
      lines[at] = {
        ...before,
        label: `${before.label}, ${line.label}`,
        amount: new Dec(before.amount).plus(line.amount).toFixed(),
        quantity: null,
      };
    }
  }
  return lines;
}

/** More lines than this are not tried in every combination. */
const MOST_TRIED_TOGETHER = 12;

/**
 * Lines of ours that one line of theirs is, to the cent, the sum of: the line that it answers to together
 * with others that nothing of theirs answers to, as where "penalties" stands for three of ours. By the id of
 * the line of theirs; the fewest lines that fit.
 */
export function takenTogether(ours: Settlement, theirs: readonly TheirLine[]): Map<string, SettlementLine[]> {
  const byId = new Map(ours.lines.map((line) => [line.id, line]));
  const answered = new Set(theirs.map(({ id }) => id));
  let free = ours.lines.filter(
    (line) => line.amount !== null && !new Dec(line.amount).isZero() && !answered.has(line.id),
  );
  const groups = new Map<string, SettlementLine[]>();
  for (const { id, amount } of theirs) {
    const own = id === null ? undefined : byId.get(id);
    if (id === null || amount === null || own?.amount == null || new Dec(amount).eq(own.amount)) continue;
    const wanted = new Dec(amount).minus(own.amount);
    const found = fewestThatSum(
      free.filter((line) => new Dec(line.amount ?? 0).isNegative() === wanted.isNegative()),
      wanted.toFixed(),
    );
    if (found === null) continue;
    groups.set(id, [own, ...found]);
    free = free.filter((line) => !found.includes(line));
  }
  return groups;
}

function fewestThatSum(lines: SettlementLine[], wanted: string): SettlementLine[] | null {
  if (lines.length === 0 || lines.length > MOST_TRIED_TOGETHER) return null;
  let best: SettlementLine[] | null = null;
  for (let chosen = 1; chosen < 2 ** lines.length; chosen += 1) {
    const some = lines.filter((_, bit) => (chosen & (1 << bit)) !== 0);
    if (best !== null && some.length >= best.length) continue;
    if (sumOf(some.map((line) => line.amount ?? '0')).eq(wanted)) best = some;
  }
  return best;
}
