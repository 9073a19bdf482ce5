import { expect, it } from 'vitest';
import { zipStream, type ZipEntry } from '../../api/zip-stream.ts';
import { fileCounter } from '../../web/pages/season/fetch-archive.ts';

async function* files(count: number): AsyncGenerator<ZipEntry, void> {
  for (let number = 1; number <= count; number += 1)
    yield { name: `S-${number}.pdf`, bytes: Buffer.alloc(1000 + 37 * number, number), day: '2026-07-01' };
}

it.each([1, 7, 100, 100_000])(
  'counts the files of an archive that arrives %i bytes at a time',
  async (size) => {
    const archive = new Uint8Array(await new Response(zipStream(files(12), () => {})).arrayBuffer());
    const counts: number[] = [];
    const count = fileCounter((files) => counts.push(files));
    for (let at = 0; at < archive.length; at += size) count(archive.subarray(at, at + size));
    expect(counts).toEqual(Array.from({ length: 12 }, (_, index) => index + 1));
  },
);
