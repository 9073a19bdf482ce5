import type { ImportKind, ImportProgress, ImportRowState } from '../../../api/schemas/import.ts';
import type { Mill } from '../../../api/schemas/mill.ts';
import { fixedText } from '../../../reports/charts/number-text.ts';

export const kindWords: Record<ImportKind, string> = {
  lots: 'lots',
  'test-smelts': 'test smelts',
  quotations: 'quotations',
  days: 'days',
  purchases: 'purchases of supplies',
};

/** Where what was imported is looked at. */
export const placeOf = {
  lots: '/lots',
  'test-smelts': '/test-smelts',
  quotations: '/prices',
  days: '/days',
  purchases: '/supply-stock',
} as const satisfies Record<ImportKind, string>;

export const stepWords: Record<ImportProgress['step'], string> = {
  reading: 'Reading and checking the file',
  writing: 'Writing the rows',
};

export const stateWords: Record<ImportRowState, string> = {
  new: 'new',
  unchanged: 'already there',
  conflict: 'differs from what is there',
  faulty: 'not understood',
};

export const dateOrderWords: Record<Mill['importDateOrder'], string> = {
  iso: '2031-05-28',
  'day-month-year': '28/05/2031',
  'month-day-year': '05/28/2031',
};

/** The rows of a file counted by what becomes of them. */
export const countWords: Record<ImportRowState, string> = {
  new: 'New',
  unchanged: 'Already there',
  conflict: 'Different from what is there',
  faulty: 'Not understood',
};

const oneOf: Record<ImportKind, string> = {
  lots: '1 lot',
  'test-smelts': '1 test smelt',
  quotations: '1 quotation',
  days: '1 day',
  purchases: '1 purchase of a supply',
};

/** `1 lot`, `50,000 quotations`. */
export const recordsText = (count: number, kind: ImportKind): string =>
  count === 1 ? oneOf[kind] : `${fixedText(count, 0)} ${kindWords[kind]}`;

export const rowsText = (count: number): string => (count === 1 ? '1 row' : `${fixedText(count, 0)} rows`);
