import { nameCell } from './cells.ts';
import { closest } from './closest.ts';
import type { ProblemList } from './problem-list.ts';

export interface KnownColumn {
  name: string;
  /** A file without it cannot be read, and a row without it is faulty. */
  required: boolean;
}

/** What a column of the file is: null when its name is not known, undefined when it has none. */
export type HeaderColumn = string | null | undefined;

/** `Wet mass  kg` and `wet_mass_kg` are the same column. */
export function comparableColumn(name: string): string {
  return nameCell(name)
    .toLowerCase()
    .replace(/[\s_]+/g, '_')
    .replace(/_?:_?/g, ':');
}

/** Finds a column by its exact name, else by one that differs in case, blanks and underscores only. */
function columnFinder(known: readonly KnownColumn[]): (header: string) => string | null {
  const exact = new Set(known.map(({ name }) => name));
  const alike = new Map<string, string | null>();
  for (const { name } of known) {
    const comparable = comparableColumn(name);
    alike.set(comparable, alike.has(comparable) ? null : name);
  }
  return (header) => (exact.has(header) ? header : (alike.get(comparableColumn(header)) ?? null));
}

/** The column that each cell of the rows belongs to. `readable` says whether rows can be read by it at all. */
export function readHeader({
  row,
  cells,
  known,
  problems,
  whyUnknown = () => null,
}: {
  row: number;
  cells: readonly string[];
  known: readonly KnownColumn[];
  problems: ProblemList;
  /** What is wrong with an unknown column, where more can be said than that it is unknown. */
  whyUnknown?: (header: string) => string | null;
}): { columns: HeaderColumn[]; readable: boolean } {
  const find = columnFinder(known);
  const names = known.map(({ name }) => name);
  const places = new Map<string, number>();
  let readable = true;

  const columns = cells.map((cell, at): HeaderColumn => {
    const header = nameCell(cell);
    if (header === '') return undefined;
    const column = find(header);
    const firstAt = places.get(column ?? comparableColumn(header));
    if (firstAt !== undefined) {
      readable = false;
      problems.add(
        row,
        header,
        null,
        () => `The column is there twice, as column ${firstAt + 1} and as column ${at + 1}.`,
      );
    } else if (column === null) {
      problems.add(row, header, null, () => whyUnknown(header) ?? unknownColumn(header, names));
    }
    places.set(column ?? comparableColumn(header), firstAt ?? at);
    return column;
  });

  for (const { name, required } of known) {
    if (!required || places.has(name)) continue;
    readable = false;
    problems.add(row, name, null, () => `The column ${name} is missing. Needed are ${requiredNames(known)}.`);
  }
  return { columns, readable };
}

function unknownColumn(header: string, names: string[]): string {
  const [nearest = ''] = closest(header, names, 1);
  return `The column is not known; the nearest is ${nearest}. Known are ${names.join(', ')}.`;
}

function requiredNames(known: readonly KnownColumn[]): string {
  return known
    .filter(({ required }) => required)
    .map(({ name }) => name)
    .join(', ');
}
