import { Dec, type DecimalNumber } from '../money.ts';
import { withMoistureMoved } from './cause-figures.ts';
import { eachFirst, FURTHEST_STEPS, gridStep, othersWords, restsOnMass, targetsOf } from './cause-targets.ts';
import type { Hypothesis, TheirFigures } from './hypothesis.ts';
import type { SettlementInput } from './input.ts';
import { roundestBetween, solveSteps } from './solve-figure.ts';

/** Moistures that would bring a line that rests on the dry mass to its amount. */
export function* solvedMoistures(
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
  const found = new Set<string>();
  for (const targets of eachFirst(targetsOf(theirs, open, restsOnMass))) {
    const range = solveSteps(
      (steps) => withMoistureMoved(input, points(steps).toFixed()),
      targets,
      FURTHEST_STEPS,
    );
    if (range === null || (range.from <= 0 && range.to >= 0)) continue;
    const hypothesis = moistureMoved(input, moistures, points(range.from), points(range.to));
    if (found.has(hypothesis.sentence)) continue;
    found.add(hypothesis.sentence);
    yield hypothesis;
  }
}

function moistureMoved(
  input: SettlementInput,
  [our, another]: DecimalNumber[],
  low: DecimalNumber,
  high: DecimalNumber,
): Hypothesis {
  if (our !== undefined && another === undefined) {
    const their = roundestBetween(our.plus(low), our.plus(high));
    return {
      code: 'other-moisture',
      sentence: `Their moisture is ${their.toFixed()} %, ours ${our.toFixed()} %${othersWords(our.plus(low), our.plus(high), '%')}.`,
      input: withMoistureMoved(input, their.minus(our).toFixed()),
    };
  }
  const moved = roundestBetween(low, high);
  const ends = [low.abs(), high.abs()].toSorted((a, b) => a.cmp(b));
  return {
    code: 'other-moisture',
    sentence: `Their moisture is ${moved.abs().toFixed()} points ${moved.isNegative() ? 'lower' : 'higher'} than ours in every sublot${othersWords(ends[0] ?? low, ends[1] ?? high, 'points')}.`,
    input: withMoistureMoved(input, moved.toFixed()),
  };
}
