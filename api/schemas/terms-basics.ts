import { z } from 'zod';
import { isIsoDate } from '../calc/calendar.ts';
import { isDecimalText } from '../calc/money.ts';
import { hasOnlyCharacters, ONLY_CHARACTERS } from './fields.ts';

export const decimal = z
  .string()
  .refine((text) => isDecimalText(text), 'Write a plain decimal number, for example 0.97 or 1250.00.')
  .meta({ pattern: String.raw`^-?\d+(\.\d+)?$`, description: 'A plain decimal number, written as text.' });
/** The published schema says what the refinements ask, as far as it can. */
const notNegative = String.raw`^\d+(\.\d+)?$`;
export const positive = decimal
  .refine((text) => Number(text) > 0, 'Must be more than zero.')
  .meta({ pattern: notNegative, description: 'A plain decimal number above zero, written as text.' });
export const atLeastZero = decimal
  .refine((text) => !text.startsWith('-'), 'Must not be negative.')
  .meta({ pattern: notNegative, description: 'A plain decimal number of at least zero, written as text.' });
export const fraction = atLeastZero
  .refine((text) => Number(text) <= 1, 'Must be a fraction between 0 and 1.')
  .meta({ pattern: notNegative, description: 'A fraction from 0 to 1, written as text: 0.97 for 97 %.' });
export const currency = z.string().regex(/^[A-Z]{3}$/, 'Three capital letters, for example USD.');
export const date = z
  .string()
  .refine((text) => isIsoDate(text), 'Write the date as year-month-day.')
  .meta({ pattern: String.raw`^\d{4}-\d{2}-\d{2}$`, description: 'A day, as year-month-day.' });
export const name = z.string().trim().min(1).max(200).refine(hasOnlyCharacters, ONLY_CHARACTERS);
export const element = z.string().regex(/^[A-Z][A-Za-z0-9]{0,19}$/, 'A chemical symbol such as Au or SiO2.');
export const days = z.int().min(-400).max(400);

export const gradeUnitSchema = z.enum([
  'g/t',
  'ppm',
  'percent',
  'fineness',
  'oz/t',
  'oz/short ton',
  'oz/long ton',
]);
export const massUnitSchema = z.enum(['kg', 'g', 'tonne', 'short ton', 'long ton', 'lb', 'ozt']);
export const priceUnit = z.enum([...massUnitSchema.options, 'unit']);
export const massBasis = z.enum(['gross', 'wet', 'moisture', 'dry', 'received', 'settlement']);
export const eventNameSchema = z.enum([
  'shipment',
  'arrival',
  'weighing',
  'melting',
  'assay-exchange',
  'price-declaration',
  'statement',
]);
export const settlementStageSchema = z.enum(['provisional', 'second-provisional', 'final']);

export const rounding = z.object({
  decimals: z.int().min(0).max(12),
  rule: z.enum(['half-up', 'half-even', 'truncate']),
  multipleOf: positive.nullable(),
});
