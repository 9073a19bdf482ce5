import { Dec, grouped, type DecimalNumber } from '../money.ts';
import { convert, massConversion } from '../terms/conversion.ts';
import { eachFirst, gridStep, othersWords, restsOnMass, targetsOf } from './cause-targets.ts';
import type { Hypothesis, TheirFigures } from './hypothesis.ts';
import type { SettlementInput } from './input.ts';
import { settle } from './settle.ts';
import type { Settlement } from './statement.ts';
import { figureOf, roundestBetween, solveSteps } from './solve-figure.ts';

/** Masses have many digits: 13 tonnes in steps of 0.1 kg. */
const FURTHEST_MASS_STEPS = 131_072;

/** The settlement with its wet mass, or the mass of record of its bars, moved; `by` in the unit of the weights. */
function withMassMoved(input: SettlementInput, by: DecimalNumber): SettlementInput {
  const { parcel, terms } = input;
  const to = parcel.kind === 'concentrate' ? 'kg' : 'g';
  const moved = convert(by, massConversion(terms.weights.unit, to), terms.factors);
  const plus = (text: string) => Dec.max(0, moved.plus(text)).toFixed();
  if (parcel.kind === 'concentrate') {
    const sublots = parcel.sublots.map((sublot, index) =>
      index === 0 ? { ...sublot, grossKg: plus(sublot.grossKg) } : sublot,
    );
    return { ...input, parcel: { ...parcel, sublots } };
  }
  const afterMelting = terms.weights.kind === 'melt' && terms.weights.massOfRecord === 'after-melting';
  const bars = parcel.bars.map((bar, index) => {
    if (index > 0) return bar;
    return afterMelting && bar.afterMeltG !== null
      ? { ...bar, afterMeltG: plus(bar.afterMeltG) }
      : { ...bar, receivedG: plus(bar.receivedG) };
  });
  return { ...input, parcel: { ...parcel, bars } };
}

/** The line of the mass that is weighed, and how it stands in a sentence. */
function weighed({ parcel, terms }: SettlementInput): { id: string; words: string } {
  if (parcel.kind === 'concentrate') return { id: 'weights/wet', words: 'wet mass' };
  const received = terms.weights.kind === 'melt' && terms.weights.massOfRecord === 'received';
  return { id: 'weights/settlement', words: received ? 'mass as received' : 'mass after melting' };
}

/** The wet mass, or the mass of record, that they print. */
export function* printedMasses(
  input: SettlementInput,
  ours: Settlement,
  theirs: TheirFigures,
): Generator<Hypothesis> {
  const { id, words } = weighed(input);
  const printed = theirs.get(id)?.result ?? null;
  const our = figureOf(ours, id, false);
  if (printed === null || our === null || our.eq(printed)) return;
  const { unit } = input.terms.weights;
  yield {
    code: 'their-mass',
    sentence: `Their ${words} is ${grouped(printed)} ${unit}, ours ${grouped(our.toFixed())} ${unit}.`,
    input: withMassMoved(input, new Dec(printed).minus(our)),
  };
}

/** Masses weighed that would bring a line that rests on them to its amount. */
export function* solvedMasses(
  input: SettlementInput,
  theirs: TheirFigures,
  open: ReadonlySet<string>,
): Generator<Hypothesis> {
  const { id, words } = weighed(input);
  const our = figureOf(settle(input), id, false);
  if (our === null) return;
  const { unit } = input.terms.weights;
  const step = gridStep(input.terms.rounding.mass.decimals);
  const at = (steps: number) => Dec.max(our.neg().div(2), step.times(steps));
  const found = new Set<string>();
  for (const targets of eachFirst(targetsOf(theirs, open, restsOnMass))) {
    const range = solveSteps((steps) => withMassMoved(input, at(steps)), targets, FURTHEST_MASS_STEPS);
    if (range === null || (range.from <= 0 && range.to >= 0)) continue;
    const [low, high] = [our.plus(at(range.from)), our.plus(at(range.to))];
    const their = roundestBetween(low, high);
    if (found.has(their.toFixed())) continue;
    found.add(their.toFixed());
    yield {
      code: 'other-mass',
      sentence: `Their ${words} is ${grouped(their.toFixed())} ${unit}, ours ${grouped(our.toFixed())} ${unit}${othersWords(low, high, unit)}.`,
      input: withMassMoved(input, their.minus(our)),
    };
  }
}
