/** What the sentence needs of each option, best expected first. */
export interface RankedOption {
  name: string;
  kind: 'in-house' | 'sale';
  meanNetValue: number;
  p10: number;
  p90: number;
  chanceBestFrac: number;
}

/** Below this chance of being the best, the first of the list is not clearly ahead. */
const CLEAR_CHANCE_FRAC = 0.65;

/** A figure as a person would say it: three significant digits, thousands set apart, for example "1,240" or "0.083". */
export function saidFigure(value: number): string {
  const rounded = Number(Math.abs(value).toPrecision(3));
  const [whole, fraction] = String(rounded).split('.');
  const grouped = whole!.replace(/\B(?=(\d{3})+$)/g, ',');
  return `${value < 0 && rounded > 0 ? '−' : ''}${fraction === undefined ? grouped : `${grouped}.${fraction}`}`;
}

/** An estimate of money as a person would say it, for example "1,240 USD"; nothing below a whole unit. */
export function saidMoney(amount: number, currency: string): string {
  const whole = Math.round(amount);
  return `${saidFigure(Math.abs(amount) < 1000 ? whole : amount)} ${currency}`;
}

/** A probability as chances: "9 chances in 10", never certainty. */
export function saidChance(probability: number): string {
  if (probability >= 0.995) return 'more than 99 chances in 100';
  if (probability >= 0.95) return `${Math.floor(100 * probability)} chances in 100`;
  if (probability < 0.005) return 'less than 1 chance in 100';
  if (probability < 0.05) return `about ${Math.ceil(100 * probability)} in 100`;
  const tenths = Math.max(1, Math.round(10 * probability));
  return `${tenths} ${tenths === 1 ? 'chance' : 'chances'} in 10`;
}

/**
 * The decision in one or two plain sentences, before any figure: which option
 * is ahead by how much and how surely, or that it is too close to call, or
 * that every option loses money. `subject` is what is decided about.
 */
export function decisionSentence(ranked: RankedOption[], currency: string, subject = 'this lot'): string {
  const [best, second] = ranked;
  if (best === undefined) return 'There is no option to compare yet.';
  const money = (amount: number) => saidMoney(amount, currency);
  if (best.meanNetValue < 0) {
    const loss = money(-best.meanNetValue);
    return second === undefined
      ? `“${best.name}” loses about ${loss} on ${subject}: leaving it is worth more.`
      : `Every option loses money on ${subject}, the least with “${best.name}”, about ${loss}: leaving it is worth more.`;
  }
  if (second === undefined) {
    return `“${best.name}” is the only option entered: it brings about ${money(best.meanNetValue)} for ${subject}, between ${money(best.p10)} and ${money(best.p90)} in 8 chances of 10.`;
  }
  const lead = best.meanNetValue - second.meanNetValue;
  if (best.chanceBestFrac < CLEAR_CHANCE_FRAC) {
    return `Too close to call: “${best.name}” is ahead of “${second.name}” by about ${money(lead)} for ${subject}, but is the best in only ${saidChance(best.chanceBestFrac)}.`;
  }
  return `“${best.name}” is ahead by about ${money(lead)} for ${subject}; ${saidChance(best.chanceBestFrac)} that it is the best.`;
}
