import { z } from 'zod';
import { name } from './fields.ts';

export const importKinds = ['lots', 'test-smelts', 'quotations', 'days', 'purchases'] as const;
export const importKind = z.enum(importKinds);
export type ImportKind = z.infer<typeof importKind>;

/** A file beyond these is refused: no season of a small mill fills it. */
export const LARGEST_IMPORT_BYTES = 20 * 1024 * 1024;
export const MOST_IMPORT_ROWS = 200_000;

/** So many rows are shown as they were understood, and so many problems are listed; all are counted. */
export const SHOWN_IMPORT_ROWS = 20;
export const MOST_LISTED_PROBLEMS = 500;

export const importSteps = ['reading', 'writing'] as const;

/** How far a step has come: reading, which checks as well, counts bytes, and writing rows. */
export const importProgress = z.object({ done: z.int(), of: z.int(), step: z.enum(importSteps) });
export type ImportProgress = z.infer<typeof importProgress>;

export const importProblem = z.object({
  /** Line of the file, the first being 1, on which the row begins. */
  row: z.int(),
  /** Name of the column as the program knows it, or as the file has it where it is unknown; null for the whole row. */
  column: z.string().nullable(),
  /** The cell as it was read, cut when long. */
  value: z.string().nullable(),
  /** One sentence: what is wrong, and what would be right. */
  message: z.string(),
});
export type ImportProblem = z.infer<typeof importProblem>;

export const importRowStates = ['new', 'unchanged', 'conflict', 'faulty'] as const;
export type ImportRowState = (typeof importRowStates)[number];

const importRow = z.object({
  row: z.int(),
  state: z.enum(importRowStates),
  /** By column: as understood (dates as YYYY-MM-DD, decimal points); of a faulty row as it stands in the file. */
  values: z.record(z.string(), z.string()),
});
export type ImportRow = z.infer<typeof importRow>;

export const importPreview = z.object({
  kind: importKind,
  fileName: z.string(),
  separator: z.enum([',', ';']),
  /** The columns that were recognized, in the order of the file. */
  columns: z.array(z.string()),
  counts: z.object({
    /** Rows with anything in them, the header apart; the sum of the four below. */
    rows: z.int(),
    new: z.int(),
    unchanged: z.int(),
    conflict: z.int(),
    faulty: z.int(),
  }),
  rows: z.array(importRow),
  problems: z.array(importProblem),
  problemCount: z.int(),
  /** What the import does beside adding rows, and what is worth knowing before it. */
  notes: z.array(z.string()),
});
export type ImportPreview = z.infer<typeof importPreview>;

export const importedFile = z.object({
  id: z.uuid(),
  kind: importKind,
  fileName: z.string(),
  sha256: z.string(),
  rowsAdded: z.int(),
  rowsUnchanged: z.int(),
  importedAt: z.string(),
});
export type ImportedFile = z.infer<typeof importedFile>;

/** RFC 9457; with a preview when the file could be read but its rows are not all in order. Nothing was written. */
export const importRefusal = z.object({
  type: z.string(),
  title: z.string(),
  status: z.int(),
  detail: z.string(),
  requestId: z.string(),
  preview: importPreview.nullable(),
});
export type ImportRefusal = z.infer<typeof importRefusal>;

const progressLine = z.strictObject({ progress: importProgress });
const problemLine = z.strictObject({ problem: importRefusal });

/** One line of the answer to a preview or an import: progress any number of times, then one of the others. */
export const previewLine = z.union([progressLine, problemLine, z.strictObject({ result: importPreview })]);
export type PreviewLine = z.infer<typeof previewLine>;
export const importLine = z.union([progressLine, problemLine, z.strictObject({ result: importedFile })]);
export type ImportLine = z.infer<typeof importLine>;

export const importFileName = name(255);
