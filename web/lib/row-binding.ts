import type { Binding } from './binding.ts';

/** The binding to the row of a list that is meant; one that is not in the list yet is added with its first change. */
export function rowOf<Row>(
  rows: Binding<Row[]>,
  row: { is: (row: Row) => boolean; shown: Row; pointer: string },
): Binding<Row> {
  const update = (change: (row: Row) => Row): void =>
    rows.update((list) =>
      list.some(row.is) ? list.map((one) => (row.is(one) ? change(one) : one)) : [...list, change(row.shown)],
    );
  return { pointer: row.pointer, value: row.shown, update, onChange: (next) => update(() => next) };
}
