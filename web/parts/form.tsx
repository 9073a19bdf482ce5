import { useEffect, useMemo, useRef, useState } from 'react';
import type { ReactNode, SubmitEvent } from 'react';
import { ApiProblem } from '../api.ts';
import type { Problem } from '../api.ts';
import { sayBooksMoved } from '../lib/books-moved.ts';
import type { Draft } from '../lib/drafts.ts';
import { timeText } from '../lib/format.ts';
import { useIsClosed } from '../lib/session.ts';
import { sendWaiting, takeBack, waitForConnection } from '../lib/waiting-entries.ts';
import { FormContext } from './form-context.ts';
import type { FormContextValue, RegisteredField } from './form-context.ts';
import { ErrorSummary } from './error-summary.tsx';
import { saidOfField } from '../lib/said-of-field.ts';
import type { SummaryLine } from './error-summary.tsx';
import { Notice } from './notice.tsx';
import { ProblemNotice } from './problem-notice.tsx';
import { useWaiting } from './waiting-note.tsx';

const noRefusals: ReadonlyMap<string, string> = new Map();

/** The problem that stands for an error of the program itself. */
function programProblem(error: unknown): Problem {
  return {
    title: 'Poursheet failed while saving',
    detail: `Nothing you typed is lost. ${error instanceof Error ? error.message : String(error)}`,
    status: 0,
    errors: [],
    requestId: '',
  };
}

/** A control's label with the rows of lists that it stands in: "Penalty 2, band 1, rate". */
function placedLabel({ id, label }: Pick<RegisteredField, 'id' | 'label'>): string {
  const places = [label];
  let row = document.getElementById(id)?.closest('[role="group"]');
  while (row != null) {
    places.unshift(row.ariaLabel ?? '');
    row = row.parentElement?.closest('[role="group"]');
  }
  const named = places.filter((place) => place !== '').join(', ');
  return `${named.charAt(0).toUpperCase()}${named.slice(1)}`;
}

function inPageOrder(lines: SummaryLine[]): SummaryLine[] {
  const element = (line: SummaryLine): HTMLElement | null =>
    line.fieldId === null ? null : document.getElementById(line.fieldId);
  return lines.toSorted((a, b) => {
    const [first, second] = [element(a), element(b)];
    if (first === null || second === null) return Number(first === null) - Number(second === null);
    return first.compareDocumentPosition(second) & Node.DOCUMENT_POSITION_FOLLOWING ? -1 : 1;
  });
}

/**
 * A form that checks its fields, saves once, and puts what the server refuses
 * beside the field it speaks of, with a summary on top that takes the focus.
 * `onSave` builds the body from the draft and sends it; what it throws is shown.
 */
export function Form(props: {
  /** The change that it sends, such as `PUT /mill`; to whom it is closed the form says so and saves nothing. */
  sends: string;
  onSave: () => Promise<unknown>;
  saveLabel: string;
  savingLabel?: string;
  /** Names the form for a screen reader where a page has several. */
  label?: string;
  /** Further buttons beside the save button. */
  buttons?: ReactNode;
  /** The draft that it saves: it waits for the connection where there is none, and is kept where others came first. */
  draft?: Pick<Draft<unknown>, 'name' | 'discard' | 'keepNow'>;
  children: ReactNode;
}) {
  const { sends, draft, onSave, saveLabel, savingLabel = 'Saving', label, buttons, children } = props;
  const fields = useRef(new Map<string, RegisteredField>());
  const summaryRef = useRef<HTMLDivElement>(null);
  const savingRef = useRef(false);
  const [saving, setSaving] = useState(false);
  const [savedAt, setSavedAt] = useState<Date | null>(null);
  const [tried, setTried] = useState(false);
  const [round, setRound] = useState(0);
  const [refusals, setRefusals] = useState(noRefusals);
  const [summary, setSummary] = useState<SummaryLine[]>([]);
  const [problem, setProblem] = useState<Problem | null>(null);
  /** It got no answer and does not wait by itself. */
  const [unsent, setUnsent] = useState(false);

  const { entries, sent } = useWaiting();
  const isClosed = useIsClosed(sends);
  const waits = entries.some(({ draftName, refused }) => draftName === draft?.name && refused === null);
  const waited = useRef(waits);
  useEffect(() => {
    // What waited has gone out, and was not taken back: the form begins anew.
    if (
      waited.current &&
      !waits &&
      sent.length > 0 &&
      !entries.some((one) => one.draftName === draft?.name)
    ) {
      draft?.discard();
      setProblem(null);
    }
    waited.current = waits;
  }, [draft, entries, sent, waits]);

  const context = useMemo<FormContextValue>(
    () => ({
      refusals,
      tried,
      round,
      register: (pointer, field) => {
        fields.current.set(pointer, field);
        return () => {
          if (fields.current.get(pointer) === field) fields.current.delete(pointer);
        };
      },
      changed: (pointer) => {
        setSavedAt(null);
        setRefusals((earlier) => {
          if (!earlier.has(pointer)) return earlier;
          const rest = new Map(earlier);
          rest.delete(pointer);
          return rest;
        });
      },
    }),
    [refusals, round, tried],
  );

  useEffect(() => {
    if (summary.length > 0 || problem !== null) summaryRef.current?.focus();
  }, [summary, problem]);

  function showRefusal(refused: Problem): void {
    if (refused.errors.length === 0) {
      setProblem(refused);
      return;
    }
    setRefusals(new Map(refused.errors.map(({ pointer, detail }) => [pointer, detail])));
    setSummary(
      inPageOrder(
        refused.errors.map(({ pointer, detail }) => {
          const field = fields.current.get(pointer);
          return {
            fieldId: field?.id ?? null,
            text: field === undefined ? detail : saidOfField(placedLabel(field), detail),
          };
        }),
      ),
    );
  }

  async function save(): Promise<void> {
    if (savingRef.current || waits || isClosed) return;
    setProblem(null);
    setRefusals(noRefusals);
    setSavedAt(null);
    setUnsent(false);
    setTried(true);
    const wrong = [...fields.current.values()].flatMap((field) => {
      const message = field.check();
      return message === null ? [] : [{ fieldId: field.id, text: `${placedLabel(field)}: ${message}` }];
    });
    setSummary(inPageOrder(wrong));
    if (wrong.length > 0) return;
    savingRef.current = true;
    setSaving(true);
    try {
      await onSave();
      setTried(false);
      setRound((saved) => saved + 1);
      setSavedAt(new Date());
    } catch (error) {
      if (error instanceof ApiProblem) {
        if (error.problem.status === 412) draft?.keepNow(error.problem.changes);
        const unanswered =
          error.unanswered ?? (error.cause instanceof ApiProblem ? error.cause.unanswered : null);
        setUnsent(unanswered !== null && draft === undefined);
        if (unanswered !== null && draft !== undefined) {
          draft.keepNow();
          const { pathname, search } = window.location;
          waitForConnection({
            label: saveLabel,
            address: `${pathname}${search}`,
            draftName: draft.name,
            at: new Date().toISOString(),
            sending: unanswered,
          });
        }
        showRefusal(error.problem);
        // The page asks for the record as it is now and begins this form anew, with the draft beside it.
        if (error.problem.status === 412) sayBooksMoved();
      } else {
        window.reportError(error);
        setProblem(programProblem(error));
      }
    } finally {
      savingRef.current = false;
      setSaving(false);
    }
  }

  return (
    <FormContext value={context}>
      <form
        className="form"
        noValidate
        aria-label={label}
        onSubmit={(event: SubmitEvent<HTMLFormElement>) => {
          event.preventDefault();
          void save();
        }}
      >
        <div ref={summaryRef} tabIndex={-1}>
          {summary.length === 0 ? null : <ErrorSummary lines={summary} />}
          {problem === null ? null : (
            <ProblemNotice problem={problem}>
              {problem.status === 412 && draft !== undefined ? (
                <button type="button" onClick={() => window.location.reload()}>
                  Compare it with what I typed
                </button>
              ) : null}
              {unsent ? (
                <p>What you typed stays on this page: save it again when the connection is back.</p>
              ) : null}
            </ProblemNotice>
          )}
          {waits ? (
            <div className="notice notice-note" role="note">
              <p>
                <span className="notice-word">Not sent yet.</span> There was no connection. What you typed is
                kept and is sent when the connection is back, once, also from another page.
              </p>
              <p className="actions">
                <button type="button" onClick={() => void sendWaiting()}>
                  Send now
                </button>
                <button type="button" className="plain" onClick={() => takeBack(draft?.name ?? '')}>
                  Take it back and go on typing
                </button>
              </p>
            </div>
          ) : null}
        </div>
        {isClosed ? (
          <Notice level="note">
            Your account sees this and cannot save it. Ask the owner of the mill for what is to be changed.
          </Notice>
        ) : null}
        {children}
        <div className="form-buttons">
          {isClosed ? null : (
            <button type="submit" className="primary" aria-disabled={saving || waits}>
              {saving ? savingLabel : saveLabel}
            </button>
          )}
          {isClosed ? null : buttons}
          <p className="form-saved" role="status">
            {savedAt === null ? '' : `Saved at ${timeText(savedAt)}.`}
          </p>
        </div>
      </form>
    </FormContext>
  );
}
