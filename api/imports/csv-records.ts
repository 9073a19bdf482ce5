import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { setImmediate as turn } from 'node:timers/promises';
import { parse } from 'csv-parse';
import { Problem } from '../problem.ts';
import { MOST_IMPORT_ROWS } from '../schemas/import.ts';
import type { FileStart } from './file-start.ts';

/** One row of the file, the header included; rows without anything in them are left out. */
export interface CsvRecord {
  /** Line of the file, the first being 1, on which the row begins. */
  row: number;
  cells: string[];
}

/** What ended the reading early: nothing below that row is known. */
export interface ReadingFault {
  row: number;
  message: string;
}

const SLICE_BYTES = 256 * 1024;
const LONGEST_ROW = 100_000;
const MOST_CELLS = 400;
/** Rows without anything in them are left out, but reading millions of them would keep everybody waiting. */
const MOST_EMPTY_ROWS = 50_000;

const whatIsWrong: Record<string, string> = {
  CSV_QUOTE_NOT_CLOSED: 'A quotation mark is opened in this row and never closed.',
  CSV_INVALID_CLOSING_QUOTE:
    'A quoted cell goes on behind its closing quotation mark. A quotation mark inside a quoted cell is written twice.',
  CSV_NON_TRIMABLE_CHAR_AFTER_CLOSING_QUOTE:
    'A quoted cell goes on behind its closing quotation mark. A quotation mark inside a quoted cell is written twice.',
  INVALID_OPENING_QUOTE:
    'A quotation mark stands inside a cell that does not begin with one. Put the whole cell in quotes and write that mark twice.',
  CSV_MAX_RECORD_SIZE: `The row is longer than ${LONGEST_ROW} characters. Perhaps a quotation mark is opened in it and never closed.`,
};

/**
 * Reads the rows of a table by RFC 4180, with CR LF, LF or CR as line ends, and hands them on slice by slice: the
 * next slice is read once `onRecords` is done with the rows of those before, so that never all rows are in memory.
 * `onProgress` is told how many bytes were read, and other requests get a turn in between.
 */
export async function csvRecords({
  start,
  onRecords,
  onProgress,
  signal,
  sliceBytes = SLICE_BYTES,
}: {
  start: FileStart;
  onRecords: (records: CsvRecord[]) => Promise<void>;
  onProgress: (doneBytes: number) => void;
  signal: AbortSignal;
  sliceBytes?: number;
}): Promise<{ fault: ReadingFault | null }> {
  const { table, separator } = start;
  const waiting: CsvRecord[] = [];
  let recordCount = 0;
  let row = start.headerRow;
  let rowBegins = 0;
  let emptyRows = 0;
  let tooManyCells: string | undefined;

  const parser = parse({
    delimiter: separator,
    record_delimiter: ['\r\n', '\n', '\r'],
    relax_column_count: true,
    trim: true,
    max_record_size: LONGEST_ROW,
    on_record: (cells: string[], { bytes }) => {
      if (cells.length > MOST_CELLS) {
        tooManyCells = `The row has ${cells.length} cells; at most ${MOST_CELLS} are read.`;
        throw new Error(tooManyCells);
      }
      if (cells.some((cell) => cell !== '')) {
        recordCount += 1;
        waiting.push({ row, cells });
      } else emptyRows += 1;
      if (emptyRows > MOST_EMPTY_ROWS)
        throw new Problem(
          'validation',
          `The file has more than ${MOST_EMPTY_ROWS} empty rows. Remove them and choose the file again.`,
        );
      if (recordCount > MOST_IMPORT_ROWS + 1)
        throw new Problem(
          'validation',
          `The file has more than ${MOST_IMPORT_ROWS} rows. Split it into smaller files.`,
        );
      row += lineEnds(table, rowBegins, bytes);
      rowBegins = bytes;
      return null; // collected here: nothing is left to flow out of the parser
    },
  });
  parser.resume();

  // One after the other, also where the parser stops while rows are still being worked on.
  let working = Promise.resolve();
  const handOn = (): Promise<void> => {
    working = working.then(() => (waiting.length === 0 ? undefined : onRecords(waiting.splice(0))));
    return working;
  };

  async function* slices(): AsyncGenerator<Buffer> {
    for (let from = 0; from < table.length; from += sliceBytes) {
      const slice = table.subarray(from, from + sliceBytes);
      yield Buffer.from(slice.buffer, slice.byteOffset, slice.byteLength);
      await handOn();
      onProgress(Math.min(from + sliceBytes, table.length));
      await turn();
    }
  }
  try {
    await pipeline(Readable.from(slices()), parser, { signal });
    await handOn();
  } catch (error) {
    const message = tooManyCells ?? whatIsWrong[(error as { code?: string }).code ?? ''];
    if (message === undefined) throw error;
    await handOn();
    return { fault: { row, message } };
  }
  return { fault: null };
}

function lineEnds(bytes: Uint8Array, from: number, to: number): number {
  let count = 0;
  for (let at = from; at < to; at += 1)
    if (bytes[at] === 0x0a || (bytes[at] === 0x0d && bytes[at + 1] !== 0x0a)) count += 1;
  return count;
}
