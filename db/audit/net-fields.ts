import { camelCase } from './camel-case.ts';
import { columnPointer, columnWords, shownValue, tableWords } from './words.ts';
import type { ChangedField } from '../../api/schemas/audit.ts';

/** An entry of the audit, as far as it tells what became of a row. */
export interface RowEntry {
  tableName: string;
  recordId: string | null;
  /** Columns of the primary key with their values. */
  rowKey: [column: string, value: unknown][] | null;
  before: Record<string, unknown> | null;
  after: Record<string, unknown> | null;
}

/** Columns that say nothing to a reader: the id stands with the record, the version counts the changes. */
const silent = ['id', 'version', 'created_at', 'entered_at'];

export type NameOf = (id: string) => string | undefined;

/**
 * What entries made of one row, from before the first to after the last: parts of a record are taken out and put
 * back at every change of it, and only what differs is a change.
 */
export function netFields(entries: readonly RowEntry[], nameOf: NameOf): ChangedField[] {
  const first: Record<string, unknown> = {};
  const last: Record<string, unknown> = {};
  for (const { before, after } of entries)
    for (const column of Object.keys({ ...before, ...after })) {
      if (!Object.hasOwn(first, column)) first[column] = before?.[column] ?? null;
      last[column] = after?.[column] ?? null;
    }
  const [entry] = entries;
  const part = entry === undefined ? null : partOf(entry, nameOf);
  const shown = (value: unknown): string | null => {
    const text = shownValue(value);
    return text === null ? null : (nameOf(text) ?? text);
  };
  return Object.keys(first)
    .filter((column) => !silent.includes(column) && part?.keyColumns.includes(column) !== true)
    .map((column) => ({
      pointer: `${part?.pointer ?? ''}${columnPointer(column)}`,
      label: `${part?.label ?? ''}${columnWords(column)}`,
      from: shown(first[column]),
      to: shown(last[column]),
    }))
    .filter(({ from, to }) => from !== to);
}

/** The part of a record that a row is, such as one mineral of a lot; null for a record itself. */
function partOf(
  { rowKey, tableName }: RowEntry,
  nameOf: NameOf,
): { pointer: string; label: string; keyColumns: string[] } | null {
  if (rowKey?.[0]?.[0].endsWith('_id') !== true) return null;
  const key = rowKey.slice(1).map(([, value]) => String(value));
  const words = tableWords(tableName);
  const named = [words.charAt(0).toUpperCase() + words.slice(1), ...key.map((one) => nameOf(one) ?? one)];
  return {
    pointer: [`/${camelCase(tableName)}`, ...key].join('/'),
    label: `${named.join(' ')}: `,
    keyColumns: rowKey.map(([column]) => column),
  };
}
