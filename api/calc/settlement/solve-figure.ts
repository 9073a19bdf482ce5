import { Dec, type DecimalNumber } from '../money.ts';
import type { SettlementInput } from './input.ts';
import { settle } from './settle.ts';
import type { Settlement } from './statement.ts';

/** A line of ours that is to come to a figure of theirs. */
export interface Target {
  id: string;
  /** The amount of the line, or its result. */
  money: boolean;
  figure: DecimalNumber;
}

/** The figure of a line; null where the line is not there. */
export function figureOf(settlement: Settlement, id: string, money: boolean): DecimalNumber | null {
  const line = settlement.lines.find((one) => one.id === id);
  const text = money ? line?.amount : line?.result?.value;
  return text == null ? null : new Dec(text);
}

/** First and last step on a grid. */
export interface StepRange {
  from: number;
  to: number;
}

/**
 * The steps by which an input would have to be moved so that the first target is met, narrowed by the other
 * targets as far as they can be met there too; null where the first is met nowhere within reach. Because
 * figures are rounded a whole range meets them, not one step. Found by halving: a line rises or falls with
 * the input throughout.
 */
export function solveSteps(
  apply: (steps: number) => SettlementInput,
  [first, ...others]: Target[],
  furthest: number,
): StepRange | null {
  if (first === undefined) return null;
  const known = new Map<number, Settlement>();
  const settledAt = (steps: number): Settlement => {
    const settlement = known.get(steps) ?? settle(apply(steps));
    known.set(steps, settlement);
    return settlement;
  };
  const valueOf =
    ({ id, money }: Target) =>
    (steps: number) =>
      figureOf(settledAt(steps), id, money);
  let range: StepRange | null = null;
  for (const within of [
    { from: 0, to: furthest },
    { from: -furthest, to: 0 },
  ]) {
    range ??= stepsThatMeet(valueOf(first), first.figure, within);
  }
  if (range === null) return null;
  for (const target of others) range = stepsThatMeet(valueOf(target), target.figure, range) ?? range;
  return range;
}

type ValueAt = (steps: number) => DecimalNumber | null;

/** The steps within a range at which a value that rises or falls throughout is the target. */
function stepsThatMeet(valueAt: ValueAt, target: DecimalNumber, { from, to }: StepRange): StepRange | null {
  const [start, end] = [valueAt(from), valueAt(to)];
  if (start === null || end === null) return null;
  const side = end.gte(start) ? 1 : -1;
  /** Below 0 before the target, 0 on it, above 0 beyond; a line that is not there is beyond. */
  const past = (steps: number): number => {
    const value = valueAt(steps);
    return value === null ? 1 : side * value.cmp(target);
  };
  if (past(from) > 0 || past(to) < 0) return null;
  const first = firstWhere((steps) => past(steps) >= 0, from, to);
  if (past(first) !== 0) return null;
  const beyond = past(to) === 0 ? to + 1 : firstWhere((steps) => past(steps) > 0, first, to);
  return { from: first, to: beyond - 1 };
}

/** The first step for which something holds that holds from there on, and for the last at the latest. */
function firstWhere(holds: (steps: number) => boolean, from: number, to: number): number {
  let [low, high] = [from, to];
  while (low < high) {
    const middle = Math.floor((low + high) / 2);
    if (holds(middle)) high = middle;
    else low = middle + 1;
  }
  return low;
}

/** The value with the fewest decimals from one to another, the nearest to the middle of them. */
export function roundestBetween(low: DecimalNumber, high: DecimalNumber): DecimalNumber {
  const middle = low.plus(high).div(2);
  const most = Math.max(low.decimalPlaces(), high.decimalPlaces());
  for (let decimals = 0; decimals < most; decimals += 1) {
    const value = middle.toDecimalPlaces(decimals);
    if (value.gte(low) && value.lte(high)) return value;
  }
  const exact = middle.toDecimalPlaces(most);
  return exact.gte(low) && exact.lte(high) ? exact : low;
}
