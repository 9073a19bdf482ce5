import type { RoundingRule } from '../../../api/calc/rounding.ts';
import type { FigureReader, FigureWriter } from '../../lib/typed-figures.ts';
import type { RoundingDraft } from './terms-draft.ts';

export const roundingDraft = (
  { decimals, rule, multipleOf }: RoundingRule,
  write: FigureWriter,
): RoundingDraft => ({
  decimals: String(decimals),
  rule,
  multipleOf: write.text(multipleOf),
});

export const roundingOf = (typed: RoundingDraft, pointer: string, read: FigureReader): RoundingRule => ({
  decimals: read.whole(typed.decimals, `${pointer}/decimals`),
  rule: typed.rule,
  multipleOf: read.optional(typed.multipleOf, `${pointer}/multipleOf`),
});
