import { MOST_LISTED_PROBLEMS, type ImportProblem } from '../schemas/import.ts';

/** Collects what is wrong with a file: everything is counted, the first so many are kept. */
export interface ProblemList {
  /** `message` is only worked out when the problem is kept. */
  add: (row: number, column: string | null, value: string | null, message: () => string) => void;
  listed: ImportProblem[];
  count: () => number;
}

const LONGEST_SHOWN_VALUE = 80;

export function problemList(): ProblemList {
  const listed: ImportProblem[] = [];
  let count = 0;
  return {
    listed,
    count: () => count,
    add: (row, column, value, message) => {
      count += 1;
      if (listed.length >= MOST_LISTED_PROBLEMS) return;
      listed.push({ row, column, value: value === null ? null : shortened(value), message: message() });
    },
  };
}

function shortened(value: string): string {
  return value.length > LONGEST_SHOWN_VALUE ? `${value.slice(0, LONGEST_SHOWN_VALUE - 1)}…` : value;
}

/** A sentence from what a schema says of a value: `must be above 0` → `Must be above 0.` */
export function sentence(text: string): string {
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}${/[.!?]$/.test(text) ? '' : '.'}`;
}
