import { roundingSentence, type RoundingRule } from '../rounding.ts';
import type { RoundingTerms, Terms } from '../terms/terms.ts';
import { replaced, type Reading } from './hypothesis.ts';

const STAGE_WORDS: Record<keyof RoundingTerms, string> = {
  mass: 'masses',
  moisture: 'moisture',
  payableGrade: 'payable grades',
  payableMetal: 'payable metal',
  price: 'prices',
  perTonneValue: 'values per unit of mass',
  money: 'money',
};

/** Money stays in the same decimals: theirs is printed in them. */
function otherRoundings(rule: RoundingRule, money: boolean): RoundingRule[] {
  const decimals = money ? [rule.decimals] : [0, 1, 2, 3, 4, 5, 6, 12];
  return decimals
    .flatMap((d) =>
      (['half-up', 'truncate', 'half-even'] as const).map((name) => ({
        decimals: d,
        rule: name,
        multipleOf: null,
      })),
    )
    .filter((one) => one.decimals !== rule.decimals || one.rule !== rule.rule || rule.multipleOf !== null);
}

/** Every stage rounded to other decimals or by another rule. */
export function* roundingReadings(terms: Terms): Generator<Reading> {
  for (const stage of Object.keys(STAGE_WORDS) as (keyof RoundingTerms)[]) {
    for (const rule of otherRoundings(terms.rounding[stage], stage === 'money')) {
      const sentence = `They round ${STAGE_WORDS[stage]} ${roundingSentence(rule)}, the contract ${roundingSentence(terms.rounding[stage])}.`;
      yield ['other-rounding', sentence, { rounding: { ...terms.rounding, [stage]: rule } }];
    }
  }
  for (const [index, assay] of terms.assays.entries()) {
    for (const rounding of otherRoundings(assay.rounding, false)) {
      const sentence = `They round the assay of ${assay.element} ${roundingSentence(rounding)}, the contract ${roundingSentence(assay.rounding)}.`;
      yield ['other-rounding', sentence, { assays: replaced(terms.assays, index, { ...assay, rounding }) }];
    }
  }
  for (const [index, metal] of terms.metals.entries()) {
    if (metal.rounding === null) continue;
    for (const rounding of otherRoundings(metal.rounding, false)) {
      const sentence = `They round the metal of ${metal.metal} ${roundingSentence(rounding)}, the contract ${roundingSentence(metal.rounding)}.`;
      yield ['other-rounding', sentence, { metals: replaced(terms.metals, index, { ...metal, rounding }) }];
    }
  }
}
