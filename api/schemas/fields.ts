import { z } from 'zod';

/** Sizes beyond which a number is a slip of the keyboard, not a small mill's figure. */
const LARGEST_MASS_KG = 10_000_000;

export const id = z.uuid({ error: 'must be the id of a record' });

export const isoDate = z.iso
  .date({ error: 'must be a date as YYYY-MM-DD' })
  .refine((text) => text >= '1900-01-01' && text <= '2199-12-31', 'must be a date between 1900 and 2199');

export const text = (longest: number) =>
  z.string().trim().max(longest, `must be at most ${longest} characters`);

export const name = (longest = 120) =>
  z.string().trim().min(1, 'must not be empty').max(longest, `must be at most ${longest} characters`);

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
export const version = z.int().min(1);
