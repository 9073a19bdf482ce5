import { expectedNetCost } from './cost-draws.ts';
import { saidFigure } from './decision-sentence.ts';
import type { DecideInput, DecisionOption } from './options.ts';
import { expectedPayment, paymentBasis } from './payment-draws.ts';
import { shareDraws } from './shared-draws.ts';
import type { DrawnDecision } from './simulate.ts';
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

function findCrossings(
  whatIf: WhatIf,
  difference: (parameter: number) => number,
  differenceToday: number,
): number[] {
  const { low, high, today } = whatIf;
  const between = whatIf.changes === 'costs' ? [] : [(low + today) / 2, (today + high) / 2];
  const places = [low, ...between.slice(0, 1), today, ...between.slice(1), high];
  const values = places.map((place) => (place === today ? differenceToday : difference(place)));
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
    const alone = pays ? `keeps “${first.name}” from paying` : `makes “${first.name}” pay`;
    const kept = second === null ? alone : 'changes the order';
    return `${start}, taken anywhere from ${say(low)} to ${say(high)} ${unit}, never ${kept} (now ${say(today)}).`;
  }
  const turn = shown(crossing) > shown(today) ? 'rises above' : 'falls below';
  const alone = `“${first.name}” ${pays ? 'stops paying' : 'begins to pay'}`;
  const then = second === null ? alone : `“${second.name}” overtakes “${first.name}”`;
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
  drawn,
}: {
  input: DecideInput;
  firstId: string;
  secondId?: string | null;
  /** The draws of the decision, where they were made before. */
  drawn?: DrawnDecision | undefined;
}): BreakEvenFinder | null {
  const named = (id: string | null) => input.options.find((option) => option.id === id) ?? null;
  const first = named(firstId);
  const second = named(secondId);
  if (first === null) return null;
  const pair: DecideInput = { ...input, options: second === null ? [first] : [first, second] };
  const shared = drawn?.shared ?? shareDraws(pair);
  /** What each option is paid as things are, and what that is worked from. */
  const asIs = pair.options.map((option) => {
    const known = drawn?.options.find((one) => one.option === option)?.payment;
    const payment =
      known === undefined ? expectedPayment(pair, option, shared) : known.meanPayment + known.meanCharges;
    return { basis: paymentBasis(pair, option), payment };
  });
  const expectedNet = (changed: DecideInput, place: number): number => {
    const option = changed.options[place]!;
    const known = asIs[place]!;
    const basis = paymentBasis(changed, option);
    const unchanged = basis.every((one, part) => one === known.basis[part]);
    const payment = unchanged ? known.payment : expectedPayment(changed, option, shared);
    return payment - expectedNetCost(changed, option, shared);
  };
  const difference = (changed: DecideInput): number =>
    expectedNet(changed, 0) - (second === null ? 0 : expectedNet(changed, 1));
  const today = difference(pair);
  const contest = { first, second, pays: expectedNet(pair, 0) >= 0 };
  return {
    pair,
    find: (whatIf) => {
      const crossings = findCrossings(
        whatIf,
        (parameter) => difference(whatIf.apply(pair, parameter)),
        today,
      );
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
  drawn?: DrawnDecision | undefined;
  whatIfs?: WhatIf[];
}): BreakEven[] {
  const finder = breakEvenFinder(contest);
  if (finder === null) return [];
  return (whatIfs ?? usualWhatIfs(finder.pair)).map(finder.find);
}
