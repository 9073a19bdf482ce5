import { useEffect, useRef, useState } from 'react';
import { ApiProblem } from '../../api.ts';
import type { Problem } from '../../api.ts';
import { Busy } from '../../parts/busy.tsx';
import { ProblemNotice } from '../../parts/problem-notice.tsx';
import { fetchArchive } from './fetch-archive.ts';
import type { Archive, ArchiveProgress } from './fetch-archive.ts';

type State =
  | { at: 'start' }
  | { at: 'working'; progress: ArchiveProgress | null }
  | { at: 'saved'; name: string }
  | { at: 'failed'; problem: Problem };

/** Long enough for the browser to have taken the file over. */
const forgetAfterMs = 60_000;

/** Hands a file to the browser to be saved. */
function saveFile({ name, content }: Archive): void {
  const address = URL.createObjectURL(content);
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), forgetAfterMs);
}

/** A button that fetches an archive which is made while it is sent, with how far it has come and a way to stop it. */
export function ArchiveDownload(props: {
  address: string;
  /** On the button. */
  label: string;
  /** While it is made. */
  busyLabel: string;
  /** Afterwards, as in `3 statements were`. */
  savedWords: string;
}) {
  const { address, label, busyLabel, savedWords } = props;
  const [state, setState] = useState<State>({ at: 'start' });
  const [failure, setFailure] = useState<Error | null>(null);
  const running = useRef<AbortController | null>(null);
  useEffect(() => () => running.current?.abort(), []);
  if (failure !== null) throw failure;

  async function fetchAll(): Promise<void> {
    const control = new AbortController();
    running.current = control;
    setState({ at: 'working', progress: null });
    try {
      const archive = await fetchArchive(address, {
        signal: control.signal,
        onProgress: (progress) => {
          if (!control.signal.aborted) setState({ at: 'working', progress });
        },
      });
      saveFile(archive);
      setState({ at: 'saved', name: archive.name });
    } catch (error) {
      if (control.signal.aborted) return;
      if (error instanceof ApiProblem) setState({ at: 'failed', problem: error.problem });
      else setFailure(error instanceof Error ? error : new Error(String(error)));
    }
  }

  return (
    <div className="statements-archive">
      {state.at === 'working' ? (
        <Busy
          label={busyLabel}
          {...(state.progress === null
            ? {}
            : {
                done: state.progress.done / state.progress.of,
                doneWords: `${state.progress.done} of ${state.progress.of} files`,
              })}
          onCancel={() => {
            running.current?.abort();
            setState({ at: 'start' });
          }}
        />
      ) : (
        <p className="actions">
          <button type="button" onClick={() => void fetchAll()}>
            {label}
          </button>
        </p>
      )}
      <div aria-live="polite">
        {state.at === 'saved' ? (
          <p>
            {savedWords} saved as {state.name}.
          </p>
        ) : null}
      </div>
      {state.at === 'failed' ? <ProblemNotice problem={state.problem} /> : null}
    </div>
  );
}
