import type { z } from 'zod';
import { importLine, previewLine } from '../../../api/schemas/import.ts';
import type {
  ImportedFile,
  ImportKind,
  ImportPreview,
  ImportProgress,
  ImportRefusal,
} from '../../../api/schemas/import.ts';
import { ApiProblem, noAnswer, problemOf } from '../../api.ts';
import { readLines } from '../../lib/read-lines.ts';

/** A file as it was chosen; read once, so that what is imported is what was looked at. */
export interface ChosenFile {
  kind: ImportKind;
  fileName: string;
  bytes: ArrayBuffer;
}

export interface Watching {
  onProgress: (progress: ImportProgress) => void;
  signal: AbortSignal;
}

export type Answer<Result> = { kind: 'result'; result: Result } | { kind: 'refused'; refusal: ImportRefusal };

function brokenOff(cause?: unknown): ApiProblem {
  return new ApiProblem(
    {
      title: 'The answer broke off',
      detail:
        'Look under “Imported files” whether the file went in before you try again: all of it, or nothing.',
      status: 0,
      errors: [],
      requestId: '',
    },
    { cause },
  );
}

async function ask<Result>(
  path: string,
  file: ChosenFile,
  line: z.ZodType<{ progress: ImportProgress } | { problem: ImportRefusal } | { result: Result }>,
  { onProgress, signal }: Watching,
): Promise<Answer<Result>> {
  const query = new URLSearchParams({ fileName: file.fileName });
  let response: Response;
  try {
    response = await fetch(`/api/imports/${file.kind}${path}?${query}`, {
      method: 'POST',
      headers: { 'content-type': 'text/csv' },
      body: file.bytes,
      signal,
    });
  } catch (cause) {
    throw signal.aborted ? cause : noAnswer(cause);
  }
  if (!response.ok) throw new ApiProblem(await problemOf(response));
  if (response.body === null) throw brokenOff();
  try {
    for await (const text of readLines(response.body)) {
      const said = line.parse(JSON.parse(text));
      if ('progress' in said) onProgress(said.progress);
      else if ('problem' in said) return { kind: 'refused', refusal: said.problem };
      else return { kind: 'result', result: said.result };
    }
  } catch (cause) {
    // What a connection that breaks while it is read gives (Fetch, "network error").
    throw cause instanceof TypeError && !signal.aborted ? brokenOff(cause) : cause;
  }
  throw brokenOff();
}

/** What importing a file would do; nothing is written. */
export function askPreview(file: ChosenFile, watching: Watching): Promise<Answer<ImportPreview>> {
  return ask('/preview', file, previewLine, watching);
}

/** Imports a file: all of it, or nothing. */
export function askImport(file: ChosenFile, watching: Watching): Promise<Answer<ImportedFile>> {
  return ask('', file, importLine, watching);
}
