import { useEffect, useRef, useState } from 'react';
import type {
  ImportedFile,
  ImportPreview,
  ImportProgress,
  ImportRefusal,
} from '../../../api/schemas/import.ts';
import { LARGEST_IMPORT_BYTES } from '../../../api/schemas/import.ts';
import type { Problem } from '../../api.ts';
import { ApiProblem } from '../../api.ts';
import { useBooksChanged } from '../../lib/bench-queries.ts';
import { askImport, askPreview } from './ask-import.ts';
import type { Answer, ChosenFile, Watching } from './ask-import.ts';

export type ImportState =
  | { at: 'start' }
  | { at: 'working'; doing: 'preview' | 'import'; progress: ImportProgress | null }
  | { at: 'previewed'; preview: ImportPreview }
  | { at: 'imported'; file: ImportedFile }
  /** The file was read, but cannot go in as it is. */
  | { at: 'refused'; refusal: ImportRefusal }
  /** It could not be asked, or the answer did not come. */
  | { at: 'failed'; problem: Problem }
  | { at: 'stopped'; doing: 'preview' | 'import' };

/** Progress is shown this often, so that many small steps do not keep the page busy. */
const SHOW_EVERY_MS = 100;

const ASK_AGAIN_AFTER_MS = 2000;

function tooLarge(bytes: number): Problem {
  const mebibytes = (size: number): string => (size / 1024 ** 2).toFixed(1);
  return {
    title: 'This file is too large',
    detail: `It has ${mebibytes(bytes)} MiB; at most ${mebibytes(LARGEST_IMPORT_BYTES)} MiB are read. Split it into smaller files.`,
    status: 0,
    errors: [],
    requestId: '',
  };
}

/** The course of one import: a file chosen, looked at, and put into the books or not. */
export function useImport(): {
  state: ImportState;
  file: ChosenFile | null;
  choose: (kind: ChosenFile['kind'], file: File) => Promise<void>;
  run: () => Promise<void>;
  stop: () => void;
  reset: () => void;
} {
  const [state, setState] = useState<ImportState>({ at: 'start' });
  const [file, setFile] = useState<ChosenFile | null>(null);
  const [failure, setFailure] = useState<Error | null>(null);
  const running = useRef<AbortController | null>(null);
  const booksChanged = useBooksChanged();
  useEffect(() => () => running.current?.abort(), []);
  if (failure !== null) throw failure;

  async function work<Result>(
    doing: 'preview' | 'import',
    ask: (watching: Watching) => Promise<Answer<Result>>,
    done: (result: Result) => ImportState,
  ): Promise<void> {
    running.current?.abort();
    const control = new AbortController();
    running.current = control;
    let shownAt = 0;
    let shownStep = '';
    setState({ at: 'working', doing, progress: null });
    const onProgress = (progress: ImportProgress): void => {
      const now = performance.now();
      if (control.signal.aborted) return;
      if (progress.step === shownStep && now - shownAt < SHOW_EVERY_MS) return;
      shownAt = now;
      shownStep = progress.step;
      setState({ at: 'working', doing, progress });
    };
    try {
      const answer = await ask({ onProgress, signal: control.signal });
      if (control.signal.aborted) return;
      setState(answer.kind === 'refused' ? { at: 'refused', refusal: answer.refusal } : done(answer.result));
    } catch (error) {
      if (control.signal.aborted) return;
      if (error instanceof ApiProblem) setState({ at: 'failed', problem: error.problem });
      else setFailure(error instanceof Error ? error : new Error(String(error)));
    }
  }

  const preview = (chosen: ChosenFile): Promise<void> =>
    work(
      'preview',
      (watching) => askPreview(chosen, watching),
      (result) => ({ at: 'previewed', preview: result }),
    );

  return {
    state,
    file,
    choose: async (kind, picked) => {
      setFile(null);
      if (picked.size > LARGEST_IMPORT_BYTES) {
        setState({ at: 'failed', problem: tooLarge(picked.size) });
        return;
      }
      const chosen = { kind, fileName: picked.name, bytes: await picked.arrayBuffer() };
      setFile(chosen);
      await preview(chosen);
    },
    run: async () => {
      if (file === null) return;
      await work(
        'import',
        (watching) => askImport(file, watching),
        (result) => ({ at: 'imported', file: result }),
      );
      await booksChanged();
      if (running.current?.signal.aborted === true) {
        // Whether it was too late to stop is known only when the server has let go of it.
        setTimeout(() => void booksChanged(), ASK_AGAIN_AFTER_MS);
      }
    },
    stop: () => {
      running.current?.abort();
      if (state.at === 'working') setState({ at: 'stopped', doing: state.doing });
    },
    reset: () => {
      running.current?.abort();
      setFile(null);
      setState({ at: 'start' });
    },
  };
}
