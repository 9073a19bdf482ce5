import { Dec, grouped, type DecimalNumber } from '../money.ts';
import { roundedText } from '../rounding.ts';
import { solvedMasses } from './cause-masses.ts';
import { solvedMoistures } from './cause-moisture.ts';
import { FURTHEST_STEPS, gridStep, othersWords, targetsOf } from './cause-targets.ts';
import { withAssay, withPrice } from './cause-figures.ts';
import type { Hypothesis, TheirFigures } from './hypothesis.ts';
import type { SettlementInput } from './input.ts';
import { settle } from './settle.ts';
import { figureOf, roundestBetween, solveSteps } from './solve-figure.ts';

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
  yield* solvedMoistures(input, theirs, open);
  yield* solvedMasses(input, theirs, open);
  yield* solvedAssays(input, theirs, open);
  yield* solvedPrices(input, theirs, open);
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
        sentence: `Their price of ${metal} is ${grouped(their.toFixed(decimals))}, ours ${grouped(our.toFixed())}${othersWords(low, high, '')}.`,
        input: withPrice(input, metal, their.toFixed()),
      };
      break;
    }
  }
}
