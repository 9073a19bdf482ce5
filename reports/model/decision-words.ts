import { saidMoney } from '../../api/calc/economics/decision-sentence.ts';
import type { OptionResult } from '../../api/calc/economics/decide.ts';
import { placeOfTwoDigits, significantText, textAtPlace } from '../charts/number-text.ts';
import { gptPerOzPerShortTon } from '../../api/calc/units.ts';
import { massText } from './charge-sheet-words.ts';
import type { DecisionReportInput } from './decision-input.ts';
import { formatDate, formatEstimate } from './format.ts';

/** The three figures of a range, rounded alike to two significant digits of half its width. */
export function rangeFigures({ p10, p50, p90 }: { p10: number; p50: number; p90: number }): {
  low: string;
  median: string;
  high: string;
} {
  const place = placeOfTwoDigits((p90 - p10) / 2);
  const text = (value: number) => (place === null ? significantText(value, 3) : textAtPlace(value, place));
  return { low: text(p10), median: text(p50), high: text(p90) };
}

/** The option chosen; undefined where the lot was left. */
export function chosenOption({ decision, chosenId }: DecisionReportInput): OptionResult | undefined {
  return decision.options.find((option) => option.id === chosenId);
}

/** What was decided, and how it stands to the option that was expected to bring most. */
export function choiceSentence(input: DecisionReportInput): string {
  const { decision, dryMassKg, lotCode, decidedOn, currency } = input;
  const chosen = chosenOption(input);
  const [best] = decision.options;
  const day = formatDate(decidedOn);
  const what = `${massText(dryMassKg, input.units.massUnit)} dry of lot ${lotCode}`;
  if (chosen === undefined)
    return `On ${day} it was decided to leave ${what} as it is for now. ${decision.sentence}`;
  const decided = `On ${day} it was decided to work ${what} this way: ${chosen.name}.`;
  if (chosen === best || best === undefined) return `${decided} ${decision.sentence}`;
  const behind = saidMoney(best.netValue.mean - chosen.netValue.mean, currency);
  return `${decided} It was expected to bring about ${behind} less than ${best.name}, which came first. ${decision.sentence}`;
}

/** What the owner assumed instead of what the records say, each in words. */
export function assumedWords({ assumptions, currency }: DecisionReportInput): string[] {
  const money = (value: number) => `${significantText(value, 8)} ${currency}`;
  const percent = (value: number) => `${formatEstimate(100 * value, 1)} %`;
  const {
    goldPricePerOzt: gold,
    silverPricePerOzt: silver,
    annualVolatilityGoldFrac: goldMoves,
    annualVolatilitySilverFrac: silverMoves,
    wagePerHour: wage,
    leadPricePerKg: lead,
    fuelPriceFactor: fuel,
    reagentPriceFactor: reagents,
    goldRecoveryShiftFrac: recovery,
    saleFreightAndAssays: freight,
  } = assumptions;
  return [
    ...(gold === null ? [] : [`gold at ${money(gold)}/ozt`]),
    ...(silver === null ? [] : [`silver at ${money(silver)}/ozt`]),
    ...(goldMoves === null ? [] : [`gold moving ${percent(goldMoves)} a year`]),
    ...(silverMoves === null ? [] : [`silver moving ${percent(silverMoves)} a year`]),
    ...(wage === null ? [] : [`a wage of ${money(wage)}/h`]),
    ...(lead === null ? [] : [`lead at ${money(lead)}/kg`]),
    ...(fuel === 1 ? [] : [`fuel at ${percent(fuel)} of its price`]),
    ...(reagents === 1 ? [] : [`reagents at ${percent(reagents)} of their prices`]),
    ...(recovery === 0 ? [] : [`${percent(recovery)} added to every gold recovery`]),
    ...(freight === 0 ? [] : [`${money(freight)} for freight and assays of a sale`]),
  ];
}

/** A grade by its range, or that it is not known. */
export function gradeText(input: DecisionReportInput, metal: 'Au' | 'Ag'): string {
  const known = input.summary[metal].gradeGpt;
  if (known === null) return 'not known';
  const { gradeUnit } = input.units;
  const perUnit = gradeUnit === 'oz/short ton' ? gptPerOzPerShortTon : 1;
  const { low, median, high } = rangeFigures({
    p10: known.p10 / perUnit,
    p50: known.p50 / perUnit,
    p90: known.p90 / perUnit,
  });
  return `${median} ${gradeUnit} (8 in 10: ${low} to ${high})`;
}

/** A price and how much it may move. */
export function priceText({ prices, currency }: DecisionReportInput, metal: 'Au' | 'Ag'): string {
  const { spot, annualVolatilityFrac } = prices[metal];
  return `${formatEstimate(spot, 2)} ${currency} per troy ounce, moving about ${formatEstimate(100 * annualVolatilityFrac, 0)} % up or down in a year`;
}
