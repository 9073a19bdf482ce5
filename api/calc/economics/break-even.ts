import { drawCosts } from './cost-draws.ts';
import { saidFigure } from './decision-sentence.ts';
import type { DecideInput, DecisionOption } from './options.ts';
import { drawPayment } from './payment-draws.ts';
import type { SharedDraws } from './shared-draws.ts';
import { shareDraws } from './shared-draws.ts';
import type { WhatIf } from './what-ifs.ts';
import { usualWhatIfs } from './what-ifs.ts';

/** Where, on one quantity, the order of two options turns. All values in `unit`. */
export interface BreakEven {
  id: string;
  label: string;
  unit: string;
  today: number;
  /** The range searched. */
  low: number;
  high: number;
  /** Turning points, nearest to today first (in parts of the range); none where the order holds over the range. */
  crossings: number[];
  sentence: string;
}

const mean = (values: Float64Array) => {
  let sum = 0;
  for (let n = 0; n < values.length; n++) sum += values[n]!;
  return sum / values.length;
};

/**
 * Root of f between two places of opposite sign, to 1e-6 of their distance or
 * 1e-9 of the larger f, by the Illinois variant of false position
 * (M. Dowell, P. Jarratt, BIT 11, 1971): two or three steps where f is nearly straight.
 */
function rootBetween(f: (x: number) => number, a: number, fa: number, b: number, fb: number): number {
  let [x0, f0, x1, f1] = [a, fa, b, fb];
  const tolerance = 1e-6 * Math.abs(b - a);
  const small = 1e-9 * Math.max(Math.abs(fa), Math.abs(fb));
  for (let step = 0; step < 60; step++) {
    const x = x1 - (f1 * (x1 - x0)) / (f1 - f0);
    const fx = f(x);
    if (Math.abs(fx) <= small || Math.abs(x1 - x0) <= tolerance) return x;
    if (fx * f1 < 0) {
      x0 = x1;
      f0 = f1;
    } else f0 /= 2;
    x1 = x;
    f1 = fx;
  }
  return x1;
}

/** Expected net value of an option under a what-if; `paid` is its mean payment where that does not change. */
function expectedNet(input: DecideInput, id: string, shared: SharedDraws, paid?: number): number {
  const option = input.options.find((candidate) => candidate.id === id)!;
  const payment = paid ?? mean(drawPayment(input, option, shared).netPayment);
  return payment - drawCosts(input, option, shared).meanNetCost;
}

function findCrossings(whatIf: WhatIf, difference: (parameter: number) => number): number[] {
  const { low, high, today } = whatIf;
  const between = whatIf.changes === 'costs' ? [] : [(low + today) / 2, (today + high) / 2];
  const places = [low, ...between.slice(0, 1), today, ...between.slice(1), high];
  const values = places.map(difference);
  const crossings = places.flatMap((place, i) => {
    const next = places[i + 1];
    if (next === undefined || !(values[i]! * values[i + 1]! < 0)) return [];
    return [rootBetween(difference, place, values[i]!, next, values[i + 1]!)];
  });
  return crossings.toSorted((a, b) => Math.abs(a - today) - Math.abs(b - today));
}

/** Two options held against each other, or one against nothing: whose order may turn. */
interface Contest {
  first: DecisionOption;
  second: DecisionOption | null;
  /** Whether the first, as assumed, brings more than nothing. */
  pays: boolean;
}

function breakEvenSentence(
  whatIf: WhatIf,
  crossing: number | undefined,
  { first, second, pays }: Contest,
): string {
  const { label, unit, shown, today, low, high } = whatIf;
  const say = (parameter: number) => saidFigure(shown(parameter));
  const start = label.charAt(0).toUpperCase() + label.slice(1);
  if (crossing === undefined) {
    const alone = pays ? `keeps "${first.name}" from paying` : `makes "${first.name}" pay`;
    const kept = second === null ? alone : 'changes the order';
    return `${start}, taken anywhere from ${say(low)} to ${say(high)} ${unit}, never ${kept} (now ${say(today)}).`;
  }
  const turn = shown(crossing) > shown(today) ? 'rises above' : 'falls below';
  const alone = `"${first.name}" ${pays ? 'stops paying' : 'begins to pay'}`;
  const then = second === null ? alone : `"${second.name}" overtakes "${first.name}"`;
  return `${then} where ${label} ${turn} ${say(crossing)} ${unit} (now ${say(today)}).`;
}

export interface BreakEvenFinder {
  /** The decision with only the options compared: what the what-ifs are to be drawn from. */
  pair: DecideInput;
  find: (whatIf: WhatIf) => BreakEven;
}

/**
 * For what-ifs one by one, the value at which the expected net values of two
 * options (`firstId` ahead, `secondId` behind) are equal; without `secondId`, at which
 * the first is worth nothing. Found on the same draws throughout, all else as
 * assumed. The difference is looked at on both sides of today, at the ends of the
 * range and, where terms may bend it, half-way: two turns within one such part go unseen.
 * Null where there is no such option.
 */
export function breakEvenFinder({
  input,
  firstId,
  secondId = null,
  shared = shareDraws(input),
}: {
  input: DecideInput;
  firstId: string;
  secondId?: string | null;
  /** The draws of the decision, where they were made before. */
  shared?: SharedDraws;
}): BreakEvenFinder | null {
  const named = (id: string | null) => input.options.find((option) => option.id === id) ?? null;
  const first = named(firstId);
  const second = named(secondId);
  if (first === null) return null;
  const pair: DecideInput = { ...input, options: second === null ? [first] : [first, second] };
  const paid = new Map(
    pair.options.map((option) => [option.id, mean(drawPayment(pair, option, shared).netPayment)]),
  );
  const contest = { first, second, pays: expectedNet(pair, first.id, shared, paid.get(first.id)) >= 0 };
  return {
    pair,
    find: (whatIf) => {
      const net = (changed: DecideInput, id: string) =>
        expectedNet(changed, id, shared, whatIf.changes === 'costs' ? paid.get(id) : undefined);
      const crossings = findCrossings(whatIf, (parameter) => {
        const changed = whatIf.apply(pair, parameter);
        return net(changed, first.id) - (second === null ? 0 : net(changed, second.id));
      });
      return {
        id: whatIf.id,
        label: whatIf.label,
        unit: whatIf.unit,
        today: whatIf.shown(whatIf.today),
        low: whatIf.shown(whatIf.low),
        high: whatIf.shown(whatIf.high),
        crossings: crossings.map(whatIf.shown),
        sentence: breakEvenSentence(whatIf, crossings[0], contest),
      };
    },
  };
}

/** All what-ifs of two options at once (`breakEvenFinder`); those that are usual where none are given. */
export function breakEvens({
  whatIfs,
  ...contest
}: {
  input: DecideInput;
  firstId: string;
  secondId?: string | null;
  whatIfs?: WhatIf[];
}): BreakEven[] {
  const finder = breakEvenFinder(contest);
  if (finder === null) return [];
  return (whatIfs ?? usualWhatIfs(finder.pair)).map(finder.find);
}
