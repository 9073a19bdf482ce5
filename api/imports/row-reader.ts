import type { z } from 'zod';
import { speakPlainly } from '../schemas/must-be.ts';
import {
  dateCell,
  decimalCell,
  nameCell,
  textCell,
  yesNoCell,
  type FileSettings,
  type Read,
} from './cells.ts';
import { sentence, type ProblemList } from './problem-list.ts';

speakPlainly();

/**
 * Reads one row's cells by column. Every method gives null for an empty cell or a column that the file does not
 * have, and undefined for a cell that cannot be right, which is then among the problems.
 */
export interface RowReader {
  row: number;
  /** The columns that this row says something in. */
  stated: string[];
  name: (column: string) => string;
  text: (column: string) => string;
  decimal: (column: string) => string | null | undefined;
  number: (column: string) => number | null | undefined;
  date: (column: string) => string | null | undefined;
  yesNo: (column: string) => boolean | null | undefined;
  /** Tells of a cell that cannot be right, once. */
  refuse: (column: string, must: () => string) => void;
  /**
   * The candidate when its schema takes it and every cell could be read, otherwise null. `columnOf` gives the
   * column that a fault of the schema lies in.
   */
  checked: <S extends z.ZodType>(
    schema: S,
    candidate: z.input<S> | Record<string, unknown>,
    columnOf: (path: PropertyKey[]) => string,
  ) => z.output<S> | null;
}

export function rowReader({
  row,
  cells,
  settings,
  problems,
}: {
  row: number;
  cells: ReadonlyMap<string, string>;
  settings: FileSettings;
  problems: ProblemList;
}): RowReader {
  const faulty = new Set<string>();
  const name = (column: string): string => nameCell(cells.get(column) ?? '');
  const refuse = (column: string, must: () => string): void => {
    if (faulty.has(column)) return;
    faulty.add(column);
    problems.add(row, column, cells.get(column) ?? '', () => sentence(must()));
  };
  const read = <T>(
    column: string,
    by: (text: string, settings: FileSettings) => Read<T>,
  ): T | null | undefined => {
    const text = name(column);
    if (text === '') return null;
    const result = by(text, settings);
    if ('value' in result) return result.value;
    refuse(column, () => result.must);
    return undefined;
  };
  const decimal = (column: string): string | null | undefined => read(column, decimalCell);

  return {
    row,
    stated: [...cells].flatMap(([column, text]) => (nameCell(text) === '' ? [] : [column])),
    name,
    text: (column) => textCell(cells.get(column) ?? ''),
    decimal,
    number: (column) => {
      const text = decimal(column);
      return text == null ? text : Number(text);
    },
    date: (column) => read(column, dateCell),
    yesNo: (column) => read(column, yesNoCell),
    refuse,
    checked: (schema, candidate, columnOf) => {
      const parsed = schema.safeParse(candidate);
      for (const issue of parsed.error?.issues ?? []) refuse(columnOf(issue.path), () => issue.message);
      return parsed.success && faulty.size === 0 ? parsed.data : null;
    },
  };
}
