import { constant, grouped, type DecimalNumber } from '../money.ts';
import { decimalsOf, roundBy, type RoundingRule } from '../rounding.ts';
import type { PrintedQuantity } from './statement.ts';

/** A figure as it stands on the statement: what prints is what is calculated with. */
export interface Figure {
  value: DecimalNumber;
  /** Plain decimal text with all its decimals. */
  text: string;
  unit: string;
}

/** Rounds a value by its rule; the statement carries on with the rounded figure. */
export function figure(value: DecimalNumber, rounding: RoundingRule, unit: string): Figure {
  const rounded = roundBy(value, rounding);
  return { value: rounded, text: decimalsOf(rounded, rounding), unit };
}

/** A figure given from outside, written as it was given. */
export function given(text: string, unit: string): Figure {
  return { value: constant(text), text, unit };
}

/** How a unit is written behind a figure: percent as its sign. */
export function unitText(unit: string): string {
  if (unit === 'percent') return '%';
  return unit === 'fineness' ? 'fine' : unit;
}

/** The number alone, grouped for reading; a percentage keeps its sign, so that it stays a true factor. */
export function bare(f: Figure): string {
  return f.unit === 'percent' ? `${grouped(f.text)} %` : grouped(f.text);
}

/** Units that are counted in the plural. */
const COUNTED = ['sublot', 'bar', 'lot'];

/** The number with its unit, for example `1,058.20 kg`. */
export function shown(f: Figure): string {
  const plural = COUNTED.includes(f.unit) && !f.value.eq(1) ? 's' : '';
  return `${grouped(f.text)} ${unitText(f.unit)}${plural}`;
}

/** For the statement's columns. */
export function printedQuantity(f: Figure): PrintedQuantity {
  return { value: f.text, unit: unitText(f.unit) };
}
