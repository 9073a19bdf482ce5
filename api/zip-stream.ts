import { Zip, ZipDeflate, ZipPassThrough } from 'fflate';

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
  const packed: Uint8Array[] = [];
  const zip = new Zip((error, chunk) => {
    if (error !== null) throw error;
    packed.push(chunk);
  });
  let isLeft = false;
  return new ReadableStream<Uint8Array>(
    {
      pull: async (controller) => {
        try {
          const next = await entries.next();
          if (isLeft) return;
          if (next.done === true) zip.end();
          else addFile(zip, next.value);
          for (const chunk of packed.splice(0)) controller.enqueue(chunk);
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

function addFile(zip: Zip, { name, bytes, day }: ZipEntry): void {
  const file = name.endsWith('.pdf') ? new ZipPassThrough(name) : new ZipDeflate(name, { level: 6 });
  // An archive keeps local time: at noon the day is the same everywhere.
  file.mtime = new Date(`${day}T12:00:00`);
  zip.add(file);
  file.push(bytes, true);
}
