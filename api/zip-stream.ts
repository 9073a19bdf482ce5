import { promisify } from 'node:util';
import { crc32, deflateRaw } from 'node:zlib';
import { Zip, type ZipInputFile } from 'fflate';

const packed = promisify(deflateRaw);

export interface ZipEntry {
  name: string;
  bytes: Uint8Array;
  /** The day that the file is dated, as an ISO date. */
  day: string;
}

/**
 * Packs files one after the other as they are made and asked for, so that only one is held at a time. A PDF is
 * compressed already and stays as it is; all else is compressed, a workbook too: it is an archive itself, and whoever
 * reads ours as it arrives would take its files for ours. Where the reader goes away no further file is made; where a file cannot be
 * made `onFault` is told and the stream breaks off, so that no half archive passes for a whole one.
 */
export function zipStream(
  entries: AsyncGenerator<ZipEntry, void>,
  onFault: (error: unknown) => void,
): ReadableStream<Uint8Array> {
  const waiting: Uint8Array[] = [];
  const zip = new Zip((error, chunk) => {
    if (error !== null) throw error;
    waiting.push(chunk);
  });
  let isLeft = false;
  return new ReadableStream<Uint8Array>(
    {
      pull: async (controller) => {
        try {
          const next = await entries.next();
          if (next.done === true) zip.end();
          else await addFile(zip, next.value);
          if (isLeft) return;
          for (const chunk of waiting.splice(0)) controller.enqueue(chunk);
          if (next.done === true) controller.close();
        } catch (error) {
          onFault(error);
          controller.error(error);
        }
      },
      cancel: async () => {
        isLeft = true;
        await entries.return();
      },
    },
    { highWaterMark: 1 },
  );
}

/** Compression methods of the format (PKWARE, APPNOTE.TXT, 4.4.5). */
const STORED = 0;
const DEFLATED = 8;

async function addFile(zip: Zip, { name, bytes, day }: ZipEntry): Promise<void> {
  const isPacked = name.endsWith('.pdf');
  // Packed outside the thread that answers others.
  const content = isPacked ? bytes : await packed(bytes);
  const file: ZipInputFile = {
    filename: name,
    size: bytes.length,
    crc: crc32(bytes),
    compression: isPacked ? STORED : DEFLATED,
    // An archive keeps local time: at noon the day is the same everywhere.
    mtime: new Date(`${day}T12:00:00`),
  };
  zip.add(file);
  file.ondata?.(null, new Uint8Array(content), true);
}
