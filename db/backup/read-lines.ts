import { createHash } from 'node:crypto';
import { createReadStream, statSync } from 'node:fs';
import { PassThrough, promises as streams } from 'node:stream';
import { createGunzip } from 'node:zlib';
import { BackupError, LONGEST_LINE_BYTES } from './format.ts';

const NEWLINE = 0x0a;

export interface BackupLine {
  text: string;
  /** SHA-256 of all lines before this one. */
  sha256Before: () => string;
}

/** The lines of a backup one after another; throws where the file is cut off or damaged. */
export async function* readLines(path: string): AsyncGenerator<BackupLine> {
  const { size } = statSync(path);
  const gunzip = createGunzip();
  const unpacked = new PassThrough();
  const reading = streams.pipeline(createReadStream(path), gunzip, unpacked);
  // Whatever ends the reading also ends the loop below, which says so.
  reading.catch(() => undefined);
  const hash = createHash('sha256');
  let rest: Buffer[] = [];
  let restBytes = 0;
  try {
    for await (const chunk of unpacked as AsyncIterable<Buffer>) {
      let from = 0;
      for (let end = chunk.indexOf(NEWLINE); end >= 0; end = chunk.indexOf(NEWLINE, from)) {
        const line = Buffer.concat([...rest, chunk.subarray(from, end + 1)]);
        [rest, restBytes, from] = [[], 0, end + 1];
        yield {
          text: line.toString('utf8', 0, line.length - 1),
          sha256Before: () => hash.copy().digest('hex'),
        };
        hash.update(line);
      }
      rest.push(chunk.subarray(from));
      restBytes += chunk.length - from;
      if (restBytes > LONGEST_LINE_BYTES) throw damaged('it holds a line that no backup has');
    }
    await reading;
  } catch (error) {
    if (error instanceof BackupError) throw error;
    const { code, message } = error as NodeJS.ErrnoException;
    if (code === 'Z_BUF_ERROR') throw damaged('it ends in the middle');
    if (code?.startsWith('Z_') === true) throw damaged(message);
    throw error;
  } finally {
    unpacked.destroy();
  }
  if (restBytes > 0) throw damaged('it ends in the middle of a line');
  if (gunzip.bytesWritten !== size) throw damaged('something stands after its end');
}

export function damaged(how: string, cause?: unknown): BackupError {
  return new BackupError(
    `This file is not a whole backup: ${how}. Nothing was brought back. Take another backup, or copy this one anew.`,
    { cause },
  );
}
