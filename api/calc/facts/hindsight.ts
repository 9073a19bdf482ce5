import { saidMoney } from '../economics/decision-sentence.ts';

/** An option as it was forecast: 8 outcomes in 10 between p10 and p90. */
export interface ForecastOption {
  id: string;
  name: string;
  netValue: { p10: number; p90: number };
}

export interface Hindsight {
  /** What came, against the range that was forecast of the option chosen. */
  standing: 'below' | 'within' | 'above';
  /**
   * What came, against the ranges of all other options: above the upper end of each, within reach of
   * some, below the lower end of at least one; or there was nothing else to choose.
   */
  verdict: 'above-others' | 'within-reach' | 'below-another' | 'nothing-else';
  sentence: string;
}

const quoted = (names: readonly string[]): string => {
  const each = names.map((name) => `“${name}”`);
  return each.length < 2 ? (each[0] ?? '') : `${each.slice(0, -1).join(', ')} and ${each.at(-1)}`;
};

/**
 * How a choice looks by what it has brought. Only the chosen option has an outcome: the others are known by
 * their frozen forecasts alone, and the grade or price that moved this one would have moved them too. So
 * nothing is said of what they would have brought, only where the outcome stands among their ranges. Null
 * where the option is not among those forecast.
 */
export function hindsight({
  chosenId,
  options,
  actualNetValue,
  isFinal,
  currency,
}: {
  chosenId: string;
  options: readonly ForecastOption[];
  actualNetValue: number;
  /** Nothing more is to be settled. */
  isFinal: boolean;
  currency: string;
}): Hindsight | null {
  const chosen = options.find((option) => option.id === chosenId);
  if (chosen === undefined) return null;
  const { p10, p90 } = chosen.netValue;
  const standing = actualNetValue < p10 ? 'below' : actualNetValue > p90 ? 'above' : 'within';
  const money = (amount: number) => saidMoney(amount, currency);
  const came = isFinal ? 'It brought' : 'So far it has brought';
  const own = `${came} ${money(actualNetValue)}, ${standing} the range forecast for “${chosen.name}” (${money(p10)} to ${money(p90)}).`;
  const others = options.filter((option) => option.id !== chosenId);
  const say = (verdict: Hindsight['verdict'], sentence: string): Hindsight => ({
    standing,
    verdict,
    sentence: `${own} ${sentence}`,
  });
  if (others.length === 0) return say('nothing-else', 'There was no other option to hold it against.');
  const unknown =
    'What another choice would have brought is not known: the same grade and prices would have moved it too.';
  const better = others.filter((option) => actualNetValue < option.netValue.p10);
  if (better.length > 0)
    return say(
      'below-another',
      `That is less than ${quoted(better.map((option) => option.name))} ${better.length === 1 ? 'was' : 'were'} forecast to bring in 9 chances of 10, so by the forecasts another choice would have brought more. ${unknown}`,
    );
  const reach = others.filter((option) => actualNetValue <= option.netValue.p90);
  if (reach.length > 0)
    return say(
      'within-reach',
      `It lies within reach of what ${quoted(reach.map((option) => option.name))} ${reach.length === 1 ? 'was' : 'were'} forecast to bring, so it cannot be told whether the choice was the best. ${unknown}`,
    );
  return say(
    'above-others',
    `That is more than any other option was forecast to bring in 9 chances of 10: by what is known the choice turned out right. ${unknown}`,
  );
}
