import fc from 'fast-check';
import { afterEach, describe, expect, it, vi } from 'vitest';
import type { ImportedFile, ImportPreview, ImportProgress } from '../../api/schemas/import.ts';
import { ApiProblem } from '../../web/api.ts';
import { readLines } from '../../web/lib/read-lines.ts';
import { askImport, askPreview } from '../../web/pages/import/ask-import.ts';

const encoder = new TextEncoder();

function streamOf(chunks: Uint8Array[], end?: Error): ReadableStream<Uint8Array<ArrayBuffer>> {
  return new ReadableStream({
    start(controller) {
      for (const chunk of chunks) controller.enqueue(new Uint8Array(chunk));
      if (end === undefined) controller.close();
      else controller.error(end);
    },
  });
}

async function linesIn(chunks: Uint8Array[]): Promise<string[]> {
  const lines: string[] = [];
  for await (const line of readLines(streamOf(chunks))) lines.push(line);
  return lines;
}

describe('readLines', () => {
  it('gives the same lines however the answer is cut, through the middle of letters too', async () => {
    const text = '{"a":"Dürre é €"}\n{"b":2}\n\n{"c":"𝟛"}';
    const bytes = encoder.encode(text);
    await fc.assert(
      fc.asyncProperty(fc.array(fc.nat({ max: bytes.length }), { maxLength: 12 }), async (cuts) => {
        const places = [0, ...cuts.toSorted((a, b) => a - b), bytes.length];
        const chunks = places.slice(1).map((end, index) => bytes.slice(places[index], end));
        expect(await linesIn(chunks)).toEqual(text.split('\n'));
      }),
    );
  });

  it('has no line in nothing', async () => {
    expect(await linesIn([])).toEqual([]);
  });
});

const preview: ImportPreview = {
  kind: 'lots',
  fileName: 'lots.csv',
  separator: ',',
  columns: ['code'],
  counts: { rows: 1, new: 1, unchanged: 0, conflict: 0, faulty: 0 },
  rows: [{ row: 2, state: 'new', values: { code: 'L-1' } }],
  problems: [],
  problemCount: 0,
  notes: [],
};
const imported: ImportedFile = {
  id: '11111111-0000-4000-8000-000000000000',
  kind: 'lots',
  fileName: 'lots.csv',
  sha256: 'abc',
  rowsAdded: 1,
  rowsUnchanged: 0,
  importedAt: '2031-05-04T10:00:00Z',
};
const refusal = {
  type: 'about:blank',
  title: 'Not valid',
  status: 422,
  detail: 'One problem was found in the file. Nothing was imported.',
  requestId: 'r-1',
  preview,
};
const file = { kind: 'lots' as const, fileName: 'my lots & more.csv', bytes: new ArrayBuffer(3) };

function watching(): {
  seen: ImportProgress[];
  onProgress: (one: ImportProgress) => void;
  signal: AbortSignal;
} {
  const seen: ImportProgress[] = [];
  return { seen, onProgress: (one) => void seen.push(one), signal: new AbortController().signal };
}

function answering(lines: object[], end?: Error): ReturnType<typeof vi.fn<typeof fetch>> {
  const chunks = lines.map((line) => encoder.encode(`${JSON.stringify(line)}\n`));
  const answer = vi.fn<typeof fetch>(() => Promise.resolve(new Response(streamOf(chunks, end))));
  vi.stubGlobal('fetch', answer);
  return answer;
}

const problemOf = async (asked: Promise<unknown>): Promise<string> => {
  try {
    await asked;
  } catch (error) {
    if (error instanceof ApiProblem) return error.problem.title;
    throw error;
  }
  throw new Error('it was answered');
};

describe('asking for an import', () => {
  afterEach(() => vi.unstubAllGlobals());

  it('passes progress on and gives the preview', async () => {
    const answer = answering([
      { progress: { done: 1, of: 2, step: 'reading' } },
      { progress: { done: 2, of: 2, step: 'writing' } },
      { result: preview },
    ]);
    const watch = watching();
    expect(await askPreview(file, watch)).toEqual({ kind: 'result', result: preview });
    expect(watch.seen.map(({ step }) => step)).toEqual(['reading', 'writing']);
    expect(answer.mock.calls[0]?.[0]).toBe('/api/imports/lots/preview?fileName=my+lots+%26+more.csv');
    expect(answer.mock.calls[0]?.[1]).toMatchObject({ method: 'POST', body: file.bytes });
  });

  it('tells a refusal from a result', async () => {
    answering([{ result: imported }]);
    expect(await askImport(file, watching())).toEqual({ kind: 'result', result: imported });
    answering([{ problem: refusal }]);
    expect(await askImport(file, watching())).toEqual({ kind: 'refused', refusal });
  });

  it('says that the answer broke off, with and without an error of the network', async () => {
    const half = [{ progress: { done: 1, of: 2, step: 'writing' } }];
    answering(half);
    expect(await problemOf(askImport(file, watching()))).toBe('The answer broke off');
    answering(half, new TypeError('network error'));
    expect(await problemOf(askImport(file, watching()))).toBe('The answer broke off');
  });

  it('gives the server’s word where it refuses to read the file, and says so where no answer comes', async () => {
    vi.stubGlobal('fetch', () =>
      Promise.resolve(
        new Response(JSON.stringify({ title: 'Too large', detail: '' }), {
          status: 413,
          headers: { 'content-type': 'application/problem+json' },
        }),
      ),
    );
    expect(await problemOf(askPreview(file, watching()))).toBe('Too large');
    vi.stubGlobal('fetch', () => Promise.reject(new TypeError('fetch failed')));
    expect(await problemOf(askPreview(file, watching()))).toBe('No answer from the mill’s computer');
  });

  it('does not take what is no answer for one', async () => {
    answering([{ result: { ...preview, counts: 'many' } }]);
    await expect(askPreview(file, watching())).rejects.toThrow('invalid_union');
  });
});
