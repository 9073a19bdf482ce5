import type { KeptWhatIf } from './page-state.ts';

const words: Record<
  keyof KeptWhatIf['whatIf'],
  (typed: string, currency: string, massUnit: string) => string
> = {
  mass: (typed, _currency, massUnit) => `${typed} ${massUnit}`,
  gold: (typed, currency) => `gold ${typed} ${currency}/ozt`,
  silver: (typed, currency) => `silver ${typed} ${currency}/ozt`,
  wage: (typed, currency) => `wage ${typed} ${currency}/h`,
  lead: (typed, currency) => `lead ${typed} ${currency}/kg`,
  fuel: (typed) => `fuel at ${typed} %`,
  reagents: (typed) => `reagents at ${typed} %`,
  recovery: (typed) => `gold recovery ${typed} % points on top`,
  freight: (typed, currency) => `freight and assays of a sale ${typed} ${currency}`,
};

/** What a kept what-if changes, in words. */
export function whatIsChanged(
  whatIf: KeptWhatIf['whatIf'],
  { currency, massUnit }: { currency: string; massUnit: string },
): string {
  const parts = (Object.keys(words) as (keyof typeof words)[]).flatMap((name) => {
    const typed = whatIf[name];
    return typed === '' ? [] : [words[name](typed, currency, massUnit)];
  });
  return parts.length === 0 ? 'nothing: as the records say' : parts.join('; ');
}
