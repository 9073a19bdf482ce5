import type { Watch } from './understand-file.ts';
import { ImportRefused } from './run-import.ts';
import { log, logError } from '../log.ts';
import { toProblem } from '../on-error.ts';
import { Problem } from '../problem.ts';
import type { ImportRefusal } from '../schemas/import.ts';

/**
 * Answers long work in lines of JSON: `progress` as it comes, at the end `result` or `problem`. When the caller
 * goes away the work is told to stop.
 */
export function lineAnswer(requestId: string, work: (watch: Watch) => Promise<unknown>): Response {
  const leaving = new AbortController();
  const encoder = new TextEncoder();
  const body = new ReadableStream<Uint8Array>({
    start: async (controller) => {
      // Nothing waits for the caller to read: a slow one must not hold a transaction open.
      const send = (line: object): void => {
        if (!leaving.signal.aborted) controller.enqueue(encoder.encode(`${JSON.stringify(line)}\n`));
      };
      try {
        const result = await work({
          report: (progress) => send({ progress }),
          signal: leaving.signal,
        });
        send({ result });
      } catch (error) {
        if (leaving.signal.aborted) log('info', 'import-left', { requestId });
        else send({ problem: refusalOf(error as Error, requestId) });
      }
      if (!leaving.signal.aborted) controller.close();
    },
    cancel: () => leaving.abort(),
  });
  return new Response(body, {
    headers: { 'content-type': 'application/x-ndjson', 'cache-control': 'no-store' },
  });
}

function refusalOf(error: Error, requestId: string): ImportRefusal {
  const preview = error instanceof ImportRefused ? error.preview : null;
  const problem =
    preview === null ? toProblem(error) : new Problem('validation', countOf(preview.problemCount));
  if (problem.status >= 500) logError('import-failed', { requestId, error });
  const { type, title, status, detail } = problem;
  return { type, title, status, detail, requestId, preview };
}

function countOf(problems: number): string {
  const found = problems === 1 ? 'One problem was' : `${problems} problems were`;
  return `${found} found in the file. Nothing was imported.`;
}
