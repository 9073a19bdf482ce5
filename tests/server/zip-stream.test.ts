import { describe, expect, it } from 'vitest';
import { zipStream, type ZipEntry } from '../../api/zip-stream.ts';
import { filesInZip } from '../support/zip-reader.ts';

const entry = (number: number): ZipEntry => ({
  name: `S-${number} ü.pdf`,
  bytes: Buffer.from(`PK\x03\x04 and PK\x07\x08 stand in file ${number}`, 'latin1'),
  day: '2026-07-24',
});

describe('an archive made while it is sent', () => {
  it('holds every file in its order', async () => {
    async function* entries() {
      for (let number = 1; number <= 3; number += 1) yield entry(number);
    }
    const bytes = Buffer.from(await new Response(zipStream(entries(), () => {})).arrayBuffer());
    const expected = [1, 2, 3].map(entry);
    expect(filesInZip(bytes)).toEqual(expected.map((one) => ({ ...one, bytes: Buffer.from(one.bytes) })));
  });

  it('makes no file before it is asked for, and none after the reader has gone', async () => {
    let made = 0;
    let ended = false;
    async function* entries() {
      try {
        for (;;) yield entry((made += 1));
      } finally {
        ended = true;
      }
    }
    const faults: unknown[] = [];
    const reader = zipStream(entries(), (error) => faults.push(error)).getReader();
    await reader.read();
    await new Promise((resolve) => setTimeout(resolve, 20));
    expect(made).toBeLessThanOrEqual(3);
    await reader.cancel();
    const atLeaving = made;
    await new Promise((resolve) => setTimeout(resolve, 20));
    expect(ended).toBe(true);
    expect(made).toBe(atLeaving);
    expect(faults).toEqual([]);
  });

  it('breaks off where a file cannot be made, and says why', async () => {
    async function* entries() {
      yield entry(1);
      throw new Error('no ink');
    }
    const faults: unknown[] = [];
    const archive = new Response(zipStream(entries(), (error) => faults.push(error))).arrayBuffer();
    await expect(archive).rejects.toThrow('no ink');
    expect(faults).toEqual([new Error('no ink')]);
  });
});
