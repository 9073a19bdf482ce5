import { setImmediate as turn } from 'node:timers/promises';
import { stringify } from 'csv-stringify/sync';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { csvRecords, type CsvRecord } from '../../api/imports/csv-records.ts';
import { fileStart, type FileStart } from '../../api/imports/file-start.ts';

const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);

function startOf(text: string): FileStart {
  const start = fileStart(bytesOf(text));
  if (typeof start === 'string') throw new Error(start);
  return start;
}

async function read(text: string, sliceBytes = 7) {
  const records: CsvRecord[] = [];
  const { fault } = await csvRecords({
    start: startOf(text),
    onRecords: async (some) => {
      await Promise.resolve();
      records.push(...some);
    },
    onProgress: () => {},
    signal: new AbortController().signal,
    sliceBytes,
  });
  return { records, fault };
}

/** A cell that is not blank at either end, because blanks around a cell are not read. */
const cell = fc
  .string({
    unit: fc.constantFrom('a', 'é', '鉱', '"', ',', ';', '\n', '\r\n', ' ', '=', "'", '1', '😀'),
    maxLength: 8,
  })
  .map((text) => text.trim());

describe('rows of a file', () => {
  it('come back as they were written, in every spelling of CSV, cut into slices anywhere', async () => {
    const table = fc.array(fc.array(cell, { minLength: 2, maxLength: 4 }), { minLength: 1, maxLength: 6 });
    const spelling = fc.record({
      separator: fc.constantFrom(',', ';'),
      lineEnd: fc.constantFrom('\n', '\r\n', '\r'),
      mark: fc.constantFrom('', '\ufeff'),
      sep: fc.boolean(),
      quoted: fc.boolean(),
      lastLineEnd: fc.boolean(),
    });
    await fc.assert(
      fc.asyncProperty(
        table,
        spelling,
        fc.integer({ min: 1, max: 40 }),
        async (rows, written, sliceBytes) => {
          const header = ['one', 'two'];
          const csv = stringify([header, ...rows], {
            delimiter: written.separator,
            record_delimiter: written.lineEnd,
            quote_record_delimiter: true,
            quoted: written.quoted,
            quoted_match: /[\r\n]/,
            eof: written.lastLineEnd,
          });
          const sep = written.sep ? `sep=${written.separator}${written.lineEnd}` : '';
          const { records, fault } = await read(written.mark + sep + csv, sliceBytes);
          expect(fault).toBeNull();
          expect(records.map((record) => record.cells)).toEqual(
            [header, ...rows].filter((cells) => cells.some((text) => text !== '')),
          );
        },
      ),
    );
  });

  it('know their line, also behind cells of several lines and empty rows', async () => {
    for (const end of ['\n', '\r\n', '\r']) {
      const text = ['', 'a;b', '1;"x', 'y"', ';;', '', ' ; ', '2;z', ''].join(end);
      for (const sliceBytes of [1, 2, 3, 1000])
        expect(await read(text, sliceBytes)).toEqual({
          records: [
            { row: 2, cells: ['a', 'b'] },
            { row: 3, cells: ['1', `x${end}y`] },
            { row: 8, cells: ['2', 'z'] },
          ],
          fault: null,
        });
    }
  });

  it('are read up to the one that is broken, which is named', async () => {
    const broken = async (text: string) => {
      const { records, fault } = await read(`a,b\n1,2\n${text}`);
      expect(records).toHaveLength(2);
      return fault;
    };
    expect(await broken('3,"4\n5,6\n')).toMatchObject({
      row: 3,
      message: expect.stringMatching(/never closed/),
    });
    expect(await broken('3,4" pipe\n5,6\n')).toMatchObject({
      row: 3,
      message: expect.stringMatching(/inside a cell/),
    });
    expect(await broken('"3"x,4\n5,6\n')).toMatchObject({
      row: 3,
      message: expect.stringMatching(/behind its closing/),
    });
    expect(await broken(`3,${'x'.repeat(10_000_000)}\n5,6\n`)).toMatchObject({
      row: 3,
      message: expect.stringMatching(/longer than 100000 characters/),
    });
    expect(await broken(`3,"${'x\n'.repeat(5_000_000)}`)).toMatchObject({
      row: 3,
      message: expect.stringMatching(/never closed/),
    });
    expect(await broken(`${','.repeat(90_000)}\n`)).toMatchObject({
      row: 3,
      message: expect.stringMatching(/90001 cells/),
    });
  });

  it('are handed on slice by slice: no more is read while those before are being worked on', async () => {
    const text = `a\n${'1234567\n'.repeat(20_000)}`;
    let most = 0;
    let underWay = 0;
    let count = 0;
    await csvRecords({
      start: startOf(text),
      onRecords: async (some) => {
        most = Math.max(most, some.length);
        underWay += 1;
        expect(underWay).toBe(1);
        await turn();
        underWay -= 1;
        count += some.length;
      },
      onProgress: () => {},
      signal: new AbortController().signal,
      sliceBytes: 800,
    });
    expect(count).toBe(20_001);
    expect(most).toBeLessThan(1000);
  });

  it('that fail to be worked on end the reading with what went wrong', async () => {
    const reading = csvRecords({
      start: startOf(`a\n${'1\n'.repeat(500)}`),
      onRecords: () => Promise.reject(new Error('no room')),
      onProgress: () => {},
      signal: new AbortController().signal,
      sliceBytes: 100,
    });
    await expect(reading).rejects.toThrow('no room');
  });

  it('are at most so many', async () => {
    const tooMany = read(`a\n${'1\n'.repeat(200_001)}`, 100_000);
    await expect(tooMany).rejects.toMatchObject({
      status: 422,
      message: expect.stringMatching(/more than 200000 rows/),
    });
    expect((await read(`a\n${'1\n'.repeat(200_000)}`, 100_000)).records).toHaveLength(200_001);
  });

  it('tell how far they are read, and stop when nobody waits for them', async () => {
    const done: number[] = [];
    const start = startOf('a,b\n1,2\n');
    const { signal } = new AbortController();
    const onRecords = () => Promise.resolve();
    await csvRecords({ start, onRecords, onProgress: (bytes) => done.push(bytes), signal, sliceBytes: 3 });
    expect(done).toEqual([3, 6, 8]);

    const leaving = new AbortController();
    const reading = csvRecords({
      start,
      onRecords,
      onProgress: () => leaving.abort(),
      signal: leaving.signal,
      sliceBytes: 3,
    });
    await expect(reading).rejects.toMatchObject({ name: 'AbortError' });
  });
});
