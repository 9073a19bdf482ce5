import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { deflateRawSync, gzipSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { csvRecords } from '../../api/imports/csv-records.ts';
import { encodingFault } from '../../api/imports/encoding.ts';
import { fileStart } from '../../api/imports/file-start.ts';
import { Problem } from '../../api/problem.ts';
import { LARGEST_IMPORT_BYTES } from '../../api/schemas/import.ts';

const MEGABYTE = 2 ** 20;
const utf8 = (text: string): Uint8Array => new TextEncoder().encode(text);

/** Reads a file as an import does; gives its rows and what stopped the reading. */
async function read(bytes: Uint8Array) {
  const refused = encodingFault(bytes);
  if (refused !== null) return { rows: 0, says: refused };
  const start = fileStart(bytes);
  if (typeof start === 'string') return { rows: 0, says: start };
  try {
    let rows = 0;
    const { fault } = await csvRecords({
      start,
      onRecords: (records) => {
        rows += records.length;
        return Promise.resolve();
      },
      onProgress: () => {},
      signal: new AbortController().signal,
    });
    return { rows, says: fault?.message ?? '' };
  } catch (error) {
    if (error instanceof Problem) return { rows: 0, says: error.detail };
    throw error;
  }
}

/** Fifty megabytes that pack to next to nothing, as a bomb is made. */
const bomb = new Uint8Array(50 * MEGABYTE).fill(0x20);

describe('a file made to do harm', () => {
  it.each<[string, () => Uint8Array, RegExp]>([
    ['a million columns', () => utf8(`${'a,'.repeat(1_000_000)}\n1`), /longer than 100000 characters/],
    ['a thousand columns', () => utf8(`${'a,'.repeat(1000)}b\n1`), /1001 cells; at most 400/],
    [
      'one line as long as the file may be',
      () => utf8(`code\n${'x'.repeat(LARGEST_IMPORT_BYTES - 10)}`),
      /longer than 100000 characters/,
    ],
    [
      'a quotation mark that is never closed',
      () => utf8(`code,name\n"${'L,1\n'.repeat(4_000_000)}`),
      /Perhaps a quotation mark is opened/,
    ],
    ['nothing but line ends', () => utf8('\n'.repeat(LARGEST_IMPORT_BYTES)), /empty/],
    ['nothing but commas', () => utf8(`code\n${',,,,\n'.repeat(3_000_000)}`), /more than 50000 empty rows/],
    ['a NUL in the middle', () => utf8(`code\nL-1\u0000\n`), /NUL byte on line 2/],
    [
      'an archive',
      () => Uint8Array.from([0x50, 0x4b, 0x03, 0x04, ...deflateRawSync(bomb)]),
      /archive, not CSV/,
    ],
    ['an empty archive', () => Uint8Array.from([0x50, 0x4b, 0x05, 0x06, 0, 0]), /archive, not CSV/],
    ['packed with gzip', () => new Uint8Array(gzipSync(bomb)), /packed, not CSV/],
    ['text in UTF-16 without a mark', () => new Uint8Array(Buffer.from('code,name\n', 'utf16le')), /UTF-16/],
  ])('is refused or read to its end, without growing: %s', async (_, made, says) => {
    const bytes = made();
    const before = process.memoryUsage();
    const { rows, says: said } = await read(bytes);
    const after = process.memoryUsage();
    expect(said).toMatch(says);
    expect(rows).toBeLessThan(2);
    // What is read is bounded by the length of a row, whatever the file's.
    expect(after.rss - before.rss).toBeLessThan(200 * MEGABYTE);
  });

  it('is never unpacked: no part of the imports can', () => {
    const folder = join(import.meta.dirname, '../../api/imports');
    for (const name of readdirSync(folder))
      expect(readFileSync(join(folder, name), 'utf8'), name).not.toMatch(
        /zlib|fflate|DecompressionStream|unzip/,
      );
  });
});
