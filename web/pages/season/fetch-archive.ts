import { Unzip, UnzipInflate } from 'fflate';
import { ApiProblem, noAnswer, problemOf } from '../../api.ts';

export interface Archive {
  name: string;
  content: Blob;
}

export interface ArchiveProgress {
  /** Files that have arrived or are arriving, of all that will come. */
  done: number;
  of: number;
}

function brokenOff(cause?: unknown): ApiProblem {
  return new ApiProblem(
    {
      title: 'The download broke off',
      detail: 'Not all files arrived, so nothing was saved. Try again.',
      status: 0,
      errors: [],
      requestId: '',
    },
    { cause },
  );
}

/** Tells how many files of an archive have begun as its bytes arrive. */
export function fileCounter(onFile: (count: number) => void): (chunk: Uint8Array) => void {
  let count = 0;
  const unzip = new Unzip((file) => {
    // What is in the file is not looked at, but has to be taken for the next one to be found.
    file.ondata = () => {};
    file.start();
    count += 1;
    onFile(count);
  });
  unzip.register(UnzipInflate);
  return (chunk) => unzip.push(chunk);
}

/** Fetches an archive that is made while it is sent, file by file. */
export async function fetchArchive(
  address: string,
  { onProgress, signal }: { onProgress: (progress: ArchiveProgress) => void; signal: AbortSignal },
): Promise<Archive> {
  let response: Response;
  try {
    response = await fetch(address, { signal });
  } catch (cause) {
    throw signal.aborted ? cause : noAnswer(cause);
  }
  if (!response.ok) throw new ApiProblem(await problemOf(response));
  if (response.body === null) throw brokenOff();
  const of = Number(response.headers.get('x-file-count') ?? response.headers.get('x-statement-count'));
  const [, name = 'files.zip'] =
    /filename="([^"]+)"/.exec(response.headers.get('content-disposition') ?? '') ?? [];
  let done = 0;
  const count = fileCounter((files) => {
    done = files;
    onProgress({ done, of });
  });
  const chunks: Uint8Array<ArrayBuffer>[] = [];
  const reader = response.body.getReader();
  try {
    for (;;) {
      const { done: isEnd, value } = await reader.read();
      if (isEnd) break;
      chunks.push(value);
      count(value);
    }
  } catch (cause) {
    throw signal.aborted ? cause : brokenOff(cause);
  }
  if (done !== of) throw brokenOff();
  return { name, content: new Blob(chunks, { type: 'application/zip' }) };
}
