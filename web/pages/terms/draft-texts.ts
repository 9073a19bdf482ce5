import { isDecimalText } from '../../../api/calc/money.ts';
import type { RoundingRule } from '../../../api/calc/rounding.ts';
import type { OwnerChoices } from '../../lib/owner.ts';
import { editableText, parseDecimal, shiftPoint } from '../../lib/parse-decimal.ts';
import type { RoundingDraft } from './terms-draft.ts';

type Sign = Pick<OwnerChoices, 'decimalComma'>;

/** Writes the figures of a contract as they are typed; nothing for null. */
export function draftWriter(owner: Sign) {
  const text = (decimal: string | null): string => editableText(decimal, owner);
  return {
    text,
    percent: (frac: string | null): string =>
      frac === null || !isDecimalText(frac) ? '' : text(shiftPoint(frac, 2)),
    rounding: ({ decimals, rule, multipleOf }: RoundingRule): RoundingDraft => ({
      decimals: String(decimals),
      rule,
      multipleOf: text(multipleOf),
    }),
  };
}

export type DraftWriter = ReturnType<typeof draftWriter>;

/**
 * Reads typed figures into a contract. What is empty but needed, or cannot be
 * read, is noted under its pointer, and a zero stands in so that the rest can be
 * read on; clauses that hold such a figure must not be shown as if they were agreed.
 */
export function draftReader(owner: Sign) {
  const incomplete: string[] = [];
  const miss = (pointer: string): void => {
    incomplete.push(pointer);
  };
  function optional(typed: string, pointer: string): string | null {
    const parsed = parseDecimal(typed, owner);
    if (parsed.ok) return parsed.decimal;
    miss(pointer);
    return null;
  }
  function decimal(typed: string, pointer: string): string {
    const parsed = parseDecimal(typed, owner);
    if (parsed.ok && parsed.decimal !== null) return parsed.decimal;
    miss(pointer);
    return '0';
  }
  function whole(typed: string, pointer: string): number {
    const value = Number(decimal(typed, pointer));
    if (Number.isInteger(value)) return value;
    miss(pointer);
    return 0;
  }
  return {
    incomplete,
    optional,
    decimal,
    whole,
    percent: (typed: string, pointer: string): string => shiftPoint(decimal(typed, pointer), -2),
    optionalPercent: (typed: string, pointer: string): string | null => {
      const percent = optional(typed, pointer);
      return percent === null ? null : shiftPoint(percent, -2);
    },
    /** A text, date or choice that is needed. */
    needed: <Text extends string>(typed: Text, pointer: string): Text => {
      if (typed.trim() === '') miss(pointer);
      return typed;
    },
    some: <Item>(list: Item[], pointer: string): Item[] => {
      if (list.length === 0) miss(pointer);
      return list;
    },
    rounding: (typed: RoundingDraft, pointer: string): RoundingRule => ({
      decimals: whole(typed.decimals, `${pointer}/decimals`),
      rule: typed.rule,
      multipleOf: optional(typed.multipleOf, `${pointer}/multipleOf`),
    }),
  };
}

export type DraftReader = ReturnType<typeof draftReader>;
