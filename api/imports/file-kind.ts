import type { KnownColumn } from './header.ts';
import type { RowReader } from './row-reader.ts';
import { Dec } from '../calc/money.ts';

/** A record by the columns of its file, each value in the one spelling it can be compared and shown in. */
export type Shown = Readonly<Record<string, string>>;

/** What is to be known of a kind of file to understand its rows. */
export interface FileKind<Row> {
  columns: KnownColumn[];
  /** What is wrong with an unknown column, where more can be said than that it is unknown. */
  whyUnknown?: (header: string) => string | null;
  /** Null when the row is faulty; what is wrong is then among the problems. */
  understand: (reader: RowReader) => Row | null;
  /** Rows with the same key are the same record. */
  keyOf: (row: Row) => string;
  /** The record by its name, as a sentence begins: `Lot L-7`. */
  titleOf: (row: Row) => string;
  shown: (row: Row) => Shown;
}

/** A decimal as it is shown and compared: `182.50` and `182.5` are the same; nothing for what is not known. */
export function plain(value: string | number | null): string {
  return value === null ? '' : new Dec(value).toFixed();
}

/** A fraction in percent, exactly. */
export function percentOf(frac: string): string {
  return new Dec(frac).times(100).toFixed();
}

/** A percentage as a fraction, exactly. */
export function fracOf(percent: string): string {
  return new Dec(percent).div(100).toFixed();
}

/** A key of several parts that no other parts give. */
export function keyFrom(...parts: string[]): string {
  return JSON.stringify(parts);
}

/** `wetMassKg` → `wet_mass_kg`: the column that a field of a schema is written in. */
export function columnOfField(field: PropertyKey | undefined): string {
  return String(field).replace(/[A-Z]/g, (letter) => `_${letter.toLowerCase()}`);
}

export const required = (name: string): KnownColumn => ({ name, required: true });
export const optional = (name: string): KnownColumn => ({ name, required: false });
