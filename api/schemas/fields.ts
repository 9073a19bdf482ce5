import { z } from 'zod';

/** Sizes beyond which a number is a slip of the keyboard, not a small mill's figure. */
const LARGEST_MASS_KG = 10_000_000;

/** The last version that can be followed by another: the database counts no further. */
export const MOST_VERSIONS = 2_147_483_646;

export const id = z.uuid({ error: 'must be the id of a record' });

export const isoDate = z.iso
  .date({ error: 'must be a date as YYYY-MM-DD' })
  .refine((text) => text >= '1900-01-01' && text <= '2199-12-31', 'must be a date between 1900 and 2199');

/**
 * Characters that no page, file or database takes: control characters but tab and line ends, halves of a
 * character, and those that are none. What is left XML can hold too (W3C, Extensible Markup Language 1.0, 2.2).
 */
const NO_CHARACTER = /[^\P{Cc}\t\n\r]|[\p{Cs}\ufffe\uffff]/u;
export const hasOnlyCharacters = (typed: string): boolean => !NO_CHARACTER.test(typed);
export const ONLY_CHARACTERS = 'must hold no control characters';

export const text = (longest: number) =>
  z
    .string()
    .trim()
    .max(longest, `must be at most ${longest} characters`)
    .refine(hasOnlyCharacters, ONLY_CHARACTERS);

export const name = (longest = 120) =>
  z
    .string()
    .trim()
    .min(1, 'must not be empty')
    .max(longest, `must be at most ${longest} characters`)
    .refine(hasOnlyCharacters, ONLY_CHARACTERS);

/**
 * A decimal as text, kept exactly as typed: money, prices, booked masses.
 * At most 12 digits before and after the point: a mass typed in ounces is kept exactly.
 */
export const decimal = (range: { min?: number; max?: number; above?: number; below?: number } = {}) =>
  z
    .string()
    .trim()
    .regex(/^-?\d{1,12}(\.\d{1,12})?$/, 'must be a number such as 1240.5, with a point and no grouping')
    .refine(
      (typed) => range.min === undefined || Number(typed) >= range.min,
      `must be at least ${range.min ?? ''}`,
    )
    .refine(
      (typed) => range.max === undefined || Number(typed) <= range.max,
      `must be at most ${range.max ?? ''}`,
    )
    .refine(
      (typed) => range.above === undefined || Number(typed) > range.above,
      `must be above ${range.above ?? ''}`,
    )
    .refine(
      (typed) => range.below === undefined || Number(typed) < range.below,
      `must be below ${range.below ?? ''}`,
    );

export const massKg = decimal({ above: 0, max: LARGEST_MASS_KG });
export const price = decimal({ min: 0, max: 1_000_000_000 });

/** A weighing or estimate as a plain number. */
export const number = (range: { min?: number; max?: number; above?: number; below?: number } = {}) => {
  let schema = z.number({ error: 'must be a number' });
  if (range.min !== undefined) schema = schema.min(range.min, `must be at least ${range.min}`);
  if (range.max !== undefined) schema = schema.max(range.max, `must be at most ${range.max}`);
  if (range.above !== undefined) schema = schema.gt(range.above, `must be above ${range.above}`);
  if (range.below !== undefined) schema = schema.lt(range.below, `must be below ${range.below}`);
  return schema;
};

/** A fraction strictly below one, such as moisture. */
export const moistureFrac = decimal({ min: 0, below: 1 });

export const currency = z
  .string()
  .regex(/^[A-Z]{3}$/, 'must be a currency code of three capitals (ISO 4217), such as USD');

export const element = z
  .string()
  .regex(/^[A-Z][a-z]?$/, 'must be the symbol of a chemical element, such as Au, Ag or As');

/** The version of the record that the change was made on; the change is refused if it has moved on. */
export const version = z.int().min(1).max(MOST_VERSIONS);
