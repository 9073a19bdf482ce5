import { isDecimalText } from '../../api/calc/money.ts';
import type { OwnerChoices } from './owner.ts';
import { editableText, parseDecimal, shiftPoint } from './parse-decimal.ts';
import { shownText, storedDecimal } from './quantities.ts';
import type { Quantity } from './quantities.ts';

/** Writes stored figures as they are typed; nothing for null. */
export function figureWriter(owner: OwnerChoices) {
  const text = (decimal: string | null): string => editableText(decimal, owner);
  return {
    text,
    percent: (frac: string | null): string =>
      frac === null || !isDecimalText(frac) ? '' : text(shiftPoint(frac, 2)),
    quantity: (quantity: Quantity, stored: string | null): string => shownText(quantity, stored, owner),
  };
}

export type FigureWriter = ReturnType<typeof figureWriter>;

/**
 * Reads typed figures while a form is still being filled in. What is empty but
 * needed, or cannot be read, is noted under its pointer, and a zero stands in so
 * that the rest can be read on; nothing that rests on it may be shown as worked.
 */
export function figureReader(owner: OwnerChoices) {
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
  function optionalQuantity(quantity: Quantity, typed: string, pointer: string): string | null {
    const shown = optional(typed, pointer);
    return shown === null ? null : storedDecimal(quantity, shown, owner);
  }
  return {
    incomplete,
    optional,
    decimal,
    optionalQuantity,
    quantity: (quantity: Quantity, typed: string, pointer: string): string =>
      storedDecimal(quantity, decimal(typed, pointer), owner),
    whole: (typed: string, pointer: string): number => {
      const value = Number(decimal(typed, pointer));
      if (Number.isInteger(value)) return value;
      miss(pointer);
      return 0;
    },
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
    /** A list that must not be empty. */
    some: <Item>(list: Item[], pointer: string): Item[] => {
      if (list.length === 0) miss(pointer);
      return list;
    },
  };
}

export type FigureReader = ReturnType<typeof figureReader>;
