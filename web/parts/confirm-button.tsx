import { useRef, useState } from 'react';
import { ApiProblem } from '../api.ts';
import type { Problem } from '../api.ts';
import { useIsClosed } from '../lib/session.ts';
import { ProblemNotice } from './problem-notice.tsx';

/**
 * A button for what cannot be undone: it asks first, in a dialog, and shows what the server refuses. It is not there
 * for whom the change is closed.
 */
export function ConfirmButton(props: {
  /** The change that it sends, such as `DELETE /lots/:id`. */
  sends: string;
  label: string;
  /** What will be gone, in one sentence. */
  question: string;
  confirmLabel: string;
  onConfirm: () => Promise<unknown>;
}) {
  const { sends, label, question, confirmLabel, onConfirm } = props;
  const isClosed = useIsClosed(sends);
  const dialog = useRef<HTMLDialogElement>(null);
  const [problem, setProblem] = useState<Problem | null>(null);
  const [working, setWorking] = useState(false);
  const [failure, setFailure] = useState<Error | null>(null);
  if (failure !== null) throw failure;
  if (isClosed) return null;

  async function confirm(): Promise<void> {
    if (working) return;
    setWorking(true);
    setProblem(null);
    try {
      await onConfirm();
      dialog.current?.close();
    } catch (error) {
      if (error instanceof ApiProblem) setProblem(error.problem);
      else setFailure(error instanceof Error ? error : new Error(String(error)));
    } finally {
      setWorking(false);
    }
  }

  return (
    <>
      <button
        type="button"
        className="plain"
        onClick={() => {
          setProblem(null);
          dialog.current?.showModal();
        }}
      >
        {label}
      </button>
      <dialog ref={dialog} className="confirm" aria-label={label}>
        <p>{question}</p>
        {problem === null ? null : <ProblemNotice problem={problem} />}
        <div className="actions">
          <button type="button" aria-disabled={working} onClick={() => void confirm()}>
            {confirmLabel}
          </button>
          <button type="button" onClick={() => dialog.current?.close()}>
            Keep it
          </button>
        </div>
      </dialog>
    </>
  );
}
