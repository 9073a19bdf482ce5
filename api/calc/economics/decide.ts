import type { Summary } from '../evidence/summary.ts';
import { summarize } from '../evidence/summary.ts';
import type { Finding } from '../finding.ts';
import { sumOfDraws } from '../statistics/draws.ts';
import { decisionSentence, saidChance, saidMoney } from './decision-sentence.ts';
import type { DecideInput } from './options.ts';
import type { DrawnDecision, OptionDraws } from './simulate.ts';
import { drawDecision } from './simulate.ts';

/** One option's figures for the whole lot; money in the decision's currency. */
export interface OptionResult {
  id: string;
  name: string;
  kind: 'in-house' | 'sale';
  goldPayableOzt: Summary;
  silverPayableOzt: Summary;
  netValue: Summary;
  /** Probability that it brings more than every other option; equals share it. */
  chanceBestFrac: number;
  /** Probability that it brings less than nothing. */
  chanceOfLossFrac: number;
  /** Probability that an element is above the buyer's refusal level. */
  chanceRefusedFrac: number;
  /** Expected amount by which the best option of hindsight beats it. */
  expectedRegret: number;
  perDryTonne: number;
  /** Null where no gold is payable. */
  perPayableGoldOzt: number | null;
  /** What an hour leaves after its wage; null where no hours are spent. */
  perLabourHour: number | null;
  labourHours: number;
  daysUntilCash: number;
  /** Expected outlay before the buyer pays. */
  cashUpFront: number;
  /** Means that sum to the mean net value; costs are negative. */
  expectedBreakdown: { label: string; amount: number }[];
}

export interface Decision {
  /** Best expected net value first. */
  options: OptionResult[];
  sentence: string;
  reservations: Finding[];
}

/** Chance of being best and expected regret of each, from draws that belong together. */
export function compareDraws(
  netValues: Float64Array[],
): { chanceBestFrac: number; expectedRegret: number }[] {
  const drawCount = netValues[0]?.length ?? 0;
  const best = new Float64Array(drawCount).fill(-Infinity);
  for (const values of netValues)
    for (let n = 0; n < drawCount; n++) if (values[n]! > best[n]!) best[n] = values[n]!;
  let wins = netValues.map((values) => {
    let count = 0;
    for (let n = 0; n < drawCount; n++) if (values[n] === best[n]) count++;
    return count;
  });
  const ties = wins.reduce((sum, count) => sum + count, 0) - drawCount;
  if (ties > 0) wins = winsWithTies(netValues, best);
  const bestTotal = sumOfDraws(best);
  return netValues.map((values, o) => ({
    chanceBestFrac: wins[o]! / drawCount,
    expectedRegret: Math.max(0, (bestTotal - sumOfDraws(values)) / drawCount),
  }));
}

/** How often each is the best, a draw with several best counting in part for each of them. */
function winsWithTies(netValues: Float64Array[], best: Float64Array): number[] {
  const bestCount = new Uint16Array(best.length);
  for (const values of netValues)
    for (let n = 0; n < best.length; n++) if (values[n] === best[n]) bestCount[n]!++;
  return netValues.map((values) => {
    let wins = 0;
    for (let n = 0; n < best.length; n++) if (values[n] === best[n]) wins += 1 / bestCount[n]!;
    return wins;
  });
}

function optionResult(
  drawn: OptionDraws,
  comparison: { chanceBestFrac: number; expectedRegret: number },
  lotDryMassKg: number,
): OptionResult {
  const { option, payment, costs } = drawn;
  const { meanLabourHours } = costs;
  const netValue = summarize(drawn.netValue);
  const { goldPayableOzt, silverPayableOzt } = payment;
  let losses = 0;
  for (let n = 0; n < drawn.netValue.length; n++) if (drawn.netValue[n]! < 0) losses++;
  return {
    id: option.id,
    name: option.name,
    kind: option.kind,
    goldPayableOzt,
    silverPayableOzt,
    netValue,
    ...comparison,
    chanceOfLossFrac: losses / drawn.netValue.length,
    chanceRefusedFrac: payment.refusedFrac,
    perDryTonne: (1000 * netValue.mean) / lotDryMassKg,
    perPayableGoldOzt: goldPayableOzt.mean > 0 ? netValue.mean / goldPayableOzt.mean : null,
    perLabourHour: meanLabourHours > 0 ? netValue.mean / meanLabourHours : null,
    labourHours: meanLabourHours,
    daysUntilCash: option.daysUntilCash,
    cashUpFront: costs.meanCashUpFront,
    expectedBreakdown: [
      { label: 'Payment for metal', amount: payment.meanPayment },
      { label: "Buyer's charges", amount: payment.meanCharges },
      ...costs.breakdown,
    ],
  };
}

function reservationsOf(options: OptionResult[], currency: string): Finding[] {
  const [best] = options;
  if (best === undefined) return [];
  const reservations: Finding[] = [];
  const say = (code: string, level: Finding['level'], sentence: string) =>
    reservations.push({ code, level, path: '', sentence });
  if (best.netValue.mean >= 0 && best.chanceOfLossFrac >= 0.05) {
    say(
      'may-lose',
      'warning',
      `“${best.name}” brings less than it costs in ${saidChance(best.chanceOfLossFrac)}; its worst tenth ends below ${saidMoney(best.netValue.p10, currency)}.`,
    );
  }
  if (best.chanceRefusedFrac > 0.01) {
    say(
      'may-be-refused',
      'warning',
      `The buyer of “${best.name}” may refuse the parcel (${saidChance(best.chanceRefusedFrac)}): an element is above the level of the terms.`,
    );
  }
  const likeliest = options.reduce((a, b) => (b.chanceBestFrac > a.chanceBestFrac ? b : a));
  if (likeliest !== best) {
    say(
      'likeliest-is-another',
      'note',
      `“${likeliest.name}” is the best more often (${saidChance(likeliest.chanceBestFrac)}), but “${best.name}” brings more on average because it wins by more when it wins.`,
    );
  }
  const sooner = options.filter(
    (option) => option.netValue.mean > 0 && best.daysUntilCash - option.daysUntilCash >= 7,
  );
  const soonest = sooner.reduce<OptionResult | null>(
    (a, b) => (a === null || b.daysUntilCash < a.daysUntilCash ? b : a),
    null,
  );
  if (soonest !== null) {
    say(
      'another-pays-sooner',
      'note',
      `“${soonest.name}” pays ${Math.round(best.daysUntilCash - soonest.daysUntilCash)} days sooner than “${best.name}”.`,
    );
  }
  return reservations;
}

/**
 * Which option is worth most for this lot, how surely, and what to bear in mind.
 *
 * Every option is simulated on the same draws (`simulate`); ranked by expected
 * net value. Chance of being best counts the draws; expected regret is the mean
 * of (best of the draw − this option), which for the first of the list is the
 * expected value of perfect information (R. T. Clemen, T. Reilly, *Making Hard
 * Decisions*, ch. 12). Options that cannot be worked out are left out, with a finding.
 */
export function decide(input: DecideInput): Decision {
  return decideDrawn(drawDecision(input));
}

/** The same from draws already made. */
export function decideDrawn({ input, options, findings }: DrawnDecision): Decision {
  const comparisons = compareDraws(options.map(({ netValue }) => netValue));
  const results = options
    .map((draws, o) => optionResult(draws, comparisons[o]!, input.lotDryMassKg))
    .sort((a, b) => b.netValue.mean - a.netValue.mean);
  const ranked = results.map(({ name, kind, netValue, chanceBestFrac }) => ({
    name,
    kind,
    meanNetValue: netValue.mean,
    p10: netValue.p10,
    p90: netValue.p90,
    chanceBestFrac,
  }));
  return {
    options: results,
    sentence: decisionSentence(ranked, input.currency, input.subject),
    reservations: [...findings, ...reservationsOf(results, input.currency)],
  };
}
