import { Dec } from '../../api/calc/money.ts';
import { parseDecimal } from './parse-decimal.ts';

export interface NumberLimits {
  required: boolean;
  /** In the unit that the field shows. */
  min: number;
  max: number;
  /** At most so many decimals; null for any. */
  decimals: number | null;
  unit: string;
  decimalComma: boolean;
}

/** What is wrong with a typed number, in one sentence; null where nothing is. */
export function checkNumber(typed: string, limits: NumberLimits): string | null {
  const parsed = parseDecimal(typed, limits);
  if (!parsed.ok) return parsed.message;
  if (parsed.decimal === null) return limits.required ? 'A number is needed here.' : null;
  const value = new Dec(parsed.decimal);
  const unit = limits.unit === '' ? '' : ` ${limits.unit}`;
  if (value.lessThan(limits.min)) return `It must be at least ${limits.min}${unit}.`;
  if (value.greaterThan(limits.max)) return `It must be at most ${limits.max}${unit}.`;
  if (limits.decimals !== null && value.decimalPlaces() > limits.decimals) {
    return limits.decimals === 0
      ? 'It must be a whole number.'
      : `It can have at most ${limits.decimals} decimals.`;
  }
  return null;
}
