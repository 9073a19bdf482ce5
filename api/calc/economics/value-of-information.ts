import type { Metal } from '../evidence/lot-evidence.ts';
import { METALS } from '../evidence/lot-evidence.ts';
import { createRandom } from '../random.ts';
import { meanOfDraws } from '../statistics/draws.ts';
import { saidMoney } from './decision-sentence.ts';
import { expectedBySignal } from './expected-by-signal.ts';
import type { Matte, MatteDraws } from './matte-work.ts';
import { drawMatte } from './matte-work.ts';
import type { DecideInput } from './options.ts';
import type { SharedDraws } from './shared-draws.ts';
import type { DrawnDecision } from './simulate.ts';
import { drawDecision } from './simulate.ts';

/** Something that could be found out before deciding. Uncertainties are standard, in g/t, of one result. */
export type Inquiry = {
  id: string;
  name: string;
  /** In the currency of the decision. */
  cost: number;
} & (
  | { kind: 'test-smelt'; treatmentId: string; replicates: number; uGpt: Record<Metal, number> }
  | { kind: 'matte-assay'; treatmentId: string; replicates: number; uGpt: Record<Metal, number> }
  | { kind: 'lab-assay'; replicates: number; uGpt: Record<Metal, number> }
  | { kind: 'price'; horizonDays: number }
);

export interface InquiryValue {
  id: string;
  name: string;
  cost: number;
  /** Expected gain from deciding with the answer in hand, before its cost. */
  value: number;
  /** Value less cost. */
  netGain: number;
  /** Probability that the answer changes the decision. */
  chanceChangesFrac: number;
  sentence: string;
}

export interface InformationValue {
  /** Expected gain from knowing everything: no inquiry is worth more. */
  perfect: number;
  /** Greatest net gain first. */
  inquiries: InquiryValue[];
}

const indexOfMax = (values: number[]) =>
  values.reduce((best, value, i) => (value > values[best]! ? i : best), 0);

/**
 * Expected value of deciding after seeing the signals rather than before: mean of the
 * net value of the option that looks best given each draw's signals, less that of
 * the option that looks best now. Signals are draws of what will be seen, belonging to the same draws as the net values.
 *
 * What each option is expected to bring given the signals comes by regression on
 * the draws (M. Strong, J. E. Oakley, A. Brennan, P. Breeze, *Estimating the expected value of
 * sample information using the probabilistic sensitivity analysis sample*, Medical Decision
 * Making 35, 2015), fitted on one half of the draws and used on the other, so
 * that chance patterns in the draws are not taken for knowledge. An estimate that comes out below zero,
 * which the true value cannot, is returned as 0.
 */
export function expectedValueOfInformation({
  netValues,
  signals,
}: {
  netValues: Float64Array[];
  signals: Float64Array[];
}): { value: number; chanceChangesFrac: number } {
  const now = indexOfMax(netValues.map(meanOfDraws));
  const count = netValues[0]?.length ?? 0;
  const expected = expectedBySignal(netValues, signals);
  let gain = 0;
  let changes = 0;
  for (let n = 0; n < count; n++) {
    let chosen = now;
    for (let o = 0; o < expected.length; o++) if (expected[o]![n]! > expected[chosen]![n]!) chosen = o;
    if (chosen === now) continue;
    changes++;
    gain += netValues[chosen]![n]! - netValues[now]![n]!;
  }
  if (!(gain > 0)) return { value: 0, chanceChangesFrac: 0 };
  return { value: gain / count, chanceChangesFrac: changes / count };
}

/** Draws of the mean result of so many samples with a given expected grade: the error model of the inference. */
function drawResults(
  expectedGpt: (n: number) => number,
  inquiry: { id: string; replicates: number; uGpt: Record<Metal, number> },
  metal: Metal,
  { draws, seed }: DecideInput,
): Float64Array {
  const random = createRandom(seed, `inquiry/${inquiry.id}/${metal}`);
  const results = new Float64Array(draws.drawCount);
  const u = inquiry.uGpt[metal];
  for (let n = 0; n < results.length; n++) {
    const sd = draws.replicateSdFrac[metal][n]!;
    const unbiased = expectedGpt(n) * Math.exp(-0.5 * sd * sd);
    let sum = 0;
    for (let i = 0; i < inquiry.replicates; i++)
      sum += unbiased * Math.exp(sd * random.normal()) + u * random.normal();
    results[n] = sum / inquiry.replicates;
  }
  return results;
}

function signalsOf(
  inquiry: Inquiry,
  input: DecideInput,
  shared: SharedDraws,
  mattes: ReadonlyMap<string, MatteDraws>,
): Float64Array[] {
  const { gradeGpt, recoveryFrac } = input.draws;
  switch (inquiry.kind) {
    case 'price': {
      const { Au, Ag } = shared.priceFactors(inquiry.horizonDays);
      return [Au, Ag];
    }
    case 'lab-assay':
      return METALS.map((metal) => drawResults((n) => gradeGpt[metal][n]!, inquiry, metal, input));
    case 'matte-assay': {
      const matte = mattes.get(inquiry.treatmentId);
      if (matte === undefined) return [];
      return METALS.map((metal) => drawResults((n) => matte.gradeGpt[metal][n]!, inquiry, metal, input));
    }
    case 'test-smelt': {
      const recovery = recoveryFrac[inquiry.treatmentId];
      if (recovery === undefined) return [];
      return METALS.map((metal) =>
        drawResults((n) => gradeGpt[metal][n]! * recovery[metal][n]!, inquiry, metal, input),
      );
    }
  }
}

/** How sentences about an inquiry name money and what is decided about. */
type Said = Pick<DecideInput, 'currency' | 'subject'>;

function inquirySentence(
  { name, cost }: { name: string; cost: number },
  value: number,
  { currency, subject = 'this lot' }: Said,
): string {
  const money = (amount: number) => saidMoney(amount, currency);
  if (Math.round(value) < 1)
    return `${name} would hardly ever change the decision for ${subject}: worth next to nothing.`;
  const worth = `${name} is worth about ${money(value)} for ${subject}`;
  if (!(cost > 0)) return `${worth}.`;
  return value > cost
    ? `${worth} and costs ${money(cost)}: worth doing.`
    : `${worth} and costs ${money(cost)}: not worth it for ${subject} alone.`;
}

/** An inquiry at another cost: what it is worth does not change, whether it is worth doing may. */
export function atCost(inquiry: InquiryValue, cost: number, said: Said): InquiryValue {
  return {
    ...inquiry,
    cost,
    netGain: inquiry.value - cost,
    sentence: inquirySentence({ name: inquiry.name, cost }, inquiry.value, said),
  };
}

export interface InformationValuer {
  /** Expected gain from knowing everything: no inquiry is worth more. */
  perfect: number;
  valueOf: (inquiry: Inquiry) => InquiryValue;
}

/**
 * What finding something out is worth before a lot is committed: for each
 * inquiry the expected value of sample information against its cost, and the
 * expected value of perfect information that bounds them all (H. Raiffa,
 * R. Schlaifer, *Applied Statistical Decision Theory*, 1961). Leaving the lot is among
 * the choices, and so is smelting the `mattes` again (`drawMatte`). What an answer is worth for later lots is
 * not counted.
 */
export function informationValuer(
  { input, shared, options }: DrawnDecision,
  mattes: readonly Matte[] = [],
): InformationValuer {
  const { drawCount } = input.draws;
  const drawnMattes = new Map(
    mattes.map((matte) => [matte.option.treatmentId, drawMatte(input, matte, shared)]),
  );
  const netValues = [
    ...options.map(({ netValue }) => netValue),
    ...[...drawnMattes.values()].map(({ netValue }) => netValue),
    new Float64Array(drawCount),
  ];
  const best = new Float64Array(drawCount);
  for (const net of netValues) for (let n = 0; n < drawCount; n++) if (net[n]! > best[n]!) best[n] = net[n]!;
  return {
    perfect: Math.max(0, meanOfDraws(best) - Math.max(...netValues.map(meanOfDraws))),
    valueOf: (inquiry) => {
      const { id, name, cost } = inquiry;
      const signals = signalsOf(inquiry, input, shared, drawnMattes);
      const { value, chanceChangesFrac } = expectedValueOfInformation({ netValues, signals });
      return atCost({ id, name, cost, value, chanceChangesFrac, netGain: 0, sentence: '' }, cost, input);
    },
  };
}

/** All inquiries at once (`informationValuer`), the greatest net gain first. */
export function valueOfInformation(
  input: DecideInput,
  inquiries: Inquiry[],
  mattes: readonly Matte[] = [],
): InformationValue {
  const drawn = drawDecision(input);
  if (drawn.options.length === 0) return { perfect: 0, inquiries: [] };
  const { perfect, valueOf } = informationValuer(drawn, mattes);
  return { perfect, inquiries: inquiries.map(valueOf).toSorted((a, b) => b.netGain - a.netGain) };
}
