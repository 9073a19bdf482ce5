import type { TableBlock, TableRow } from './report.ts';

type Column = TableBlock['columns'][number];

/** A column of words. */
export function text(key: string, label: string, weight: number): Column {
  return { key, label, align: 'start', weight };
}

/** A column of figures. */
export function figure(key: string, label: string, weight: number): Column {
  return { key, label, align: 'end', weight };
}

export function total(cells: Record<string, string>): TableRow {
  return { style: 'total', cells };
}
