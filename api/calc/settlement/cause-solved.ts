import { Dec, type DecimalNumber } from '../money.ts';
import { roundedText } from '../rounding.ts';
import { withAssay, withMoistureMoved, withPrice } from './cause-figures.ts';
import type { Hypothesis, TheirFigures } from './hypothesis.ts';
import type { SettlementInput } from './input.ts';
import { settle } from './settle.ts';
import { figureOf, roundestBetween, solveSteps, type Target } from './solve-figure.ts';

/** How far from ours a figure of theirs is looked for, in steps of its last decimal: 40 % moisture, 40 g/t. */
const FURTHEST_STEPS = 4096;
/** Prices have more digits: 1,310.72 with two decimals. */
const FURTHEST_PRICE_STEPS = 131_072;

/**
 * Figures solved for: the moisture, assay or price that would bring the lines that depend on it to their
 * amounts. Of the figures that do, which are several where masses or metal are rounded, the roundest is
 * taken and the others are named.
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

/** What they print on the lines that are open and fit: the lines that rest on least come first. */
function targetsOf(theirs: TheirFigures, open: ReadonlySet<string>, fits: (id: string) => boolean): Target[] {
  const order = ['weights', 'payable', 'penalties', 'charges', 'total'];
  const place = (id: string): number => order.indexOf(id.split('/')[0] ?? '');
  const ids = [...open].filter(fits).toSorted((a, b) => place(a) - place(b));
  return ids.flatMap((id) => {
    const { amount, result } = theirs.get(id) ?? { amount: null, result: null };
    const figure = amount ?? result;
    return figure === null ? [] : [{ id, money: amount !== null, figure: new Dec(figure) }];
  });
}

function gridStep(decimals: number): DecimalNumber {
  return new Dec(10).pow(-decimals);
}

/** What else would do, where more than one figure does. */
function othersWords(low: DecimalNumber, high: DecimalNumber, unit: string): string {
  return low.eq(high)
    ? ''
    : `; any from ${low.toFixed()} to ${`${high.toFixed()} ${unit}`.trim()} gives the same`;
}

function* solvedMoisture(
  input: SettlementInput,
  theirs: TheirFigures,
  open: ReadonlySet<string>,
): Generator<Hypothesis> {
  if (input.parcel.kind !== 'concentrate') return;
  const moistures = input.parcel.sublots.map(({ moistureFrac }) => new Dec(moistureFrac).times(100));
  const [wettest, driest] = [Dec.max(...moistures), Dec.min(...moistures)];
  const step = gridStep(input.terms.rounding.moisture.decimals);
  /** Moisture stays between none and less than all. */
  const points = (steps: number): DecimalNumber =>
    Dec.max(Dec.min(step.times(steps), new Dec(99).minus(wettest)), driest.neg());
  const range = solveSteps(
    (steps) => withMoistureMoved(input, points(steps).toFixed()),
    targetsOf(theirs, open, (id) => /^(weights|charges|payable|total)\//.test(id)),
    FURTHEST_STEPS,
  );
  if (range === null || (range.from <= 0 && range.to >= 0)) return;
  const [low, high] = [points(range.from), points(range.to)];
  const [our, another] = moistures;
  if (our !== undefined && another === undefined) {
    const their = roundestBetween(our.plus(low), our.plus(high));
    yield {
      code: 'other-moisture',
      sentence: `Their moisture is ${their.toFixed()} %, ours ${our.toFixed()} %${othersWords(our.plus(low), our.plus(high), '%')}.`,
      input: withMoistureMoved(input, their.minus(our).toFixed()),
    };
    return;
  }
  const moved = roundestBetween(low, high);
  const ends = [low.abs(), high.abs()].toSorted((a, b) => a.cmp(b));
  yield {
    code: 'other-moisture',
    sentence: `Their moisture is ${moved.abs().toFixed()} points ${moved.isNegative() ? 'lower' : 'higher'} than ours in every sublot${othersWords(ends[0] ?? low, ends[1] ?? high, 'points')}.`,
    input: withMoistureMoved(input, moved.toFixed()),
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
    if (our === null) continue;
    const targets = targetsOf(
      theirs,
      open,
      (id) => id === `payable/${rule.element}` || (id.startsWith('penalties/') && id.includes(rule.element)),
    );
    const step = gridStep(rule.rounding.decimals);
    const at = (steps: number) => roundedText(Dec.max(0, our.plus(step.times(steps))), rule.rounding);
    const range = solveSteps((by) => withAssay(input, rule.element, at(by)), targets, FURTHEST_STEPS);
    if (range === null || (range.from <= 0 && range.to >= 0)) continue;
    const [low, high] = [new Dec(at(range.from)), new Dec(at(range.to))];
    const reported = reportedWithin(input, rule.element, low, high);
    const their = roundedText(reported?.result ?? roundestBetween(low, high), rule.rounding);
    const unit = rule.unit === 'percent' ? '%' : rule.unit;
    yield {
      code: 'other-assay',
      sentence: `Their assay of ${rule.element} is ${their} ${unit}, ours ${roundedText(our, rule.rounding)}${reported === null ? othersWords(low, high, unit) : ` (${reported.words})`}.`,
      input: withAssay(input, rule.element, their),
    };
  }
}

/** A result that one of the parties reported, where it would do. */
function reportedWithin(
  input: SettlementInput,
  element: string,
  low: DecimalNumber,
  high: DecimalNumber,
): { result: DecimalNumber; words: string } | null {
  const inputs = input.assays.filter((a) => a.element === element);
  const names = { own: 'our own result', buyer: "the other party's result", umpire: "the umpire's result" };
  for (const party of ['own', 'buyer', 'umpire'] as const) {
    const reported = inputs.length === 1 ? inputs[0]?.[party] : null;
    if (reported == null) continue;
    const result = new Dec(reported);
    if (result.gte(low) && result.lte(high)) return { result, words: names[party] };
  }
  return null;
}

function* solvedPrices(
  input: SettlementInput,
  theirs: TheirFigures,
  open: ReadonlySet<string>,
): Generator<Hypothesis> {
  const ours = settle(input);
  for (const { metal } of input.terms.metals) {
    const targets = targetsOf(theirs, open, (id) => id === `payable/${metal}`);
    const our = figureOf(ours, `prices/${metal}`, false);
    if (targets.length === 0 || our === null) continue;
    for (const decimals of [2, 3, 4]) {
      const step = gridStep(decimals);
      const at = (steps: number) => Dec.max(0, our.plus(step.times(steps))).toFixed(decimals);
      const range = solveSteps((by) => withPrice(input, metal, at(by)), targets, FURTHEST_PRICE_STEPS);
      if (range === null || (range.from <= 0 && range.to >= 0)) continue;
      const [low, high] = [new Dec(at(range.from)), new Dec(at(range.to))];
      const their = roundestBetween(low, high);
      yield {
        code: 'other-price',
        sentence: `Their price of ${metal} is ${their.toFixed(decimals)}, ours ${our.toFixed()}${othersWords(low, high, '')}.`,
        input: withPrice(input, metal, their.toFixed()),
      };
      break;
    }
  }
}
