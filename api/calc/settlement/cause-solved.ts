import { Dec, type DecimalNumber } from '../money.ts';
import { roundedText } from '../rounding.ts';
import { withAssay, withMoistureMoved, withPrice } from './cause-figures.ts';
import type { Hypothesis, TheirFigures } from './hypothesis.ts';
import type { SettlementInput } from './input.ts';
import { settle } from './settle.ts';
import type { Settlement } from './statement.ts';

/** How far from ours a figure of theirs is looked for, in steps of its last decimal: 40 % moisture, 40 g/t. */
const FURTHEST_STEPS = 4096;
/** Prices have more digits: 1,310.72 with two decimals. */
const FURTHEST_PRICE_STEPS = 131_072;

/**
 * Figures solved for: the moisture, assay or price that would bring the first line that
 * depends on it to their amount. Found by halving on the grid of the figure's own
 * decimals, so it is a figure they could have printed.
 */
export function* solvedCauses(
  input: SettlementInput,
  theirs: TheirFigures,
  open: ReadonlySet<string>,
): Generator<Hypothesis> {
  yield* solvedMoisture(input, theirs, open);
  yield* solvedAssays(input, theirs, open);
  yield* solvedPrices(input, theirs, open);
}

function figureOf(settlement: Settlement, id: string, money: boolean): DecimalNumber | null {
  const line = settlement.lines.find((one) => one.id === id);
  const text = money ? line?.amount : line?.result?.value;
  return text == null ? null : new Dec(text);
}

/** The step on the grid, within reach, at which the line is theirs; null where none is. */
function solve(
  apply: (steps: number) => SettlementInput,
  id: string,
  target: DecimalNumber,
  money: boolean,
  furthest = FURTHEST_STEPS,
): number | null {
  const valueAt = (steps: number) => figureOf(settle(apply(steps)), id, money);
  const start = valueAt(0);
  if (start === null) return null;
  for (const side of [1, -1]) {
    const end = valueAt(side * furthest);
    if (end === null || end.eq(start)) continue;
    const rising = end.gt(start);
    if (rising ? target.lt(start) || target.gt(end) : target.gt(start) || target.lt(end)) continue;
    let low = 0;
    let high = furthest;
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      const value = valueAt(side * middle);
      if (value === null) return null;
      if (value.eq(target)) return side * middle;
      if (rising ? value.lt(target) : value.gt(target)) low = middle;
      else high = middle;
    }
    for (const steps of [low, high]) if (valueAt(side * steps)?.eq(target)) return side * steps;
  }
  return null;
}

function gridStep(decimals: number): DecimalNumber {
  return new Dec(10).pow(-decimals);
}

function* solvedMoisture(
  input: SettlementInput,
  theirs: TheirFigures,
  open: ReadonlySet<string>,
): Generator<Hypothesis> {
  if (input.parcel.kind !== 'concentrate') return;
  const step = gridStep(input.terms.rounding.moisture.decimals);
  const [first] = [...open].filter((id) => /^(weights|charges|payable|total)\//.test(id));
  const figure = first === undefined ? undefined : theirs.get(first);
  if (first === undefined || figure === undefined) return;
  const target = figure.amount ?? figure.result;
  if (target === null) return;
  const wettest = input.parcel.sublots
    .map((s) => new Dec(s.moistureFrac))
    .reduce((a, b) => Dec.max(a, b), new Dec(0));
  const driest = input.parcel.sublots
    .map((s) => new Dec(s.moistureFrac))
    .reduce((a, b) => Dec.min(a, b), new Dec(1));
  const within = (steps: number) => {
    // Moisture stays between none and less than all.
    const points = Dec.min(step.times(steps), new Dec('0.99').minus(wettest).times(100));
    return Dec.max(points, driest.times(-100)).toFixed();
  };
  const steps = solve(
    (by) => withMoistureMoved(input, within(by)),
    first,
    new Dec(target),
    figure.amount !== null,
  );
  if (steps === null || steps === 0) return;
  const points = within(steps);
  const moved = new Dec(points).abs().toFixed(input.terms.rounding.moisture.decimals);
  const only = input.parcel.sublots.length === 1 ? input.parcel.sublots[0] : undefined;
  const our = only === undefined ? null : new Dec(only.moistureFrac).times(100);
  yield {
    code: 'other-moisture',
    sentence:
      our === null
        ? `Their moisture is ${moved} points ${steps > 0 ? 'higher' : 'lower'} than ours in every sublot.`
        : `Their moisture is ${our.plus(points).toFixed()} %, ours ${our.toFixed()} %.`,
    input: withMoistureMoved(input, points),
  };
}

function* solvedAssays(
  input: SettlementInput,
  theirs: TheirFigures,
  open: ReadonlySet<string>,
): Generator<Hypothesis> {
  const ours = settle(input);
  for (const rule of input.terms.assays) {
    const our = figureOf(ours, `assays/${rule.element}`, false);
    const id = [...open].find(
      (one) =>
        one === `payable/${rule.element}` || (one.startsWith('penalties/') && one.includes(rule.element)),
    );
    const target = id === undefined ? null : (theirs.get(id)?.amount ?? null);
    if (our === null || id === undefined || target === null) continue;
    const step = gridStep(rule.rounding.decimals);
    const at = (steps: number) => roundedText(Dec.max(0, our.plus(step.times(steps))), rule.rounding);
    const steps = solve((by) => withAssay(input, rule.element, at(by)), id, new Dec(target), true);
    if (steps === null || steps === 0) continue;
    yield {
      code: 'other-assay',
      sentence: `Their assay of ${rule.element} is ${at(steps)} ${rule.unit}, ours ${roundedText(our, rule.rounding)}${namedResult(input, rule.element, at(steps))}.`,
      input: withAssay(input, rule.element, at(steps)),
    };
  }
}

function namedResult(input: SettlementInput, element: string, result: string): string {
  const inputs = input.assays.filter((a) => a.element === element);
  const names = { own: 'our own result', buyer: "the other party's result", umpire: "the umpire's result" };
  for (const party of ['own', 'buyer', 'umpire'] as const) {
    const reported = inputs.length === 1 ? inputs[0]?.[party] : null;
    if (reported != null && new Dec(reported).eq(result)) return ` (${names[party]})`;
  }
  return '';
}

function* solvedPrices(
  input: SettlementInput,
  theirs: TheirFigures,
  open: ReadonlySet<string>,
): Generator<Hypothesis> {
  const ours = settle(input);
  for (const { metal } of input.terms.metals) {
    const id = `payable/${metal}`;
    const target = theirs.get(id)?.amount ?? null;
    const our = figureOf(ours, `prices/${metal}`, false);
    if (!open.has(id) || target === null || our === null) continue;
    for (const decimals of [2, 3, 4]) {
      const step = gridStep(decimals);
      const at = (steps: number) => Dec.max(0, our.plus(step.times(steps))).toFixed(decimals);
      const found = solve(
        (by) => withPrice(input, metal, at(by)),
        id,
        new Dec(target),
        true,
        FURTHEST_PRICE_STEPS,
      );
      if (found === null || found === 0) continue;
      yield {
        code: 'other-price',
        sentence: `Their price of ${metal} is ${at(found)}, ours ${our.toFixed()}.`,
        input: withPrice(input, metal, at(found)),
      };
      break;
    }
  }
}
