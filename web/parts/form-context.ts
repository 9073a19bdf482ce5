import { createContext, useContext, useEffect, useId, useState } from 'react';

export interface RegisteredField {
  id: string;
  label: string;
  /** What is wrong with what is typed, null where nothing is. */
  check: () => string | null;
}

export interface FormContextValue {
  /** What the server said about a field at the last try, by JSON pointer. */
  refusals: ReadonlyMap<string, string>;
  /** True once saving was tried: from then on every field says what is wrong with it. */
  tried: boolean;
  /** How often it was saved: what was left before the last saving is begun anew. */
  round: number;
  register: (pointer: string, field: RegisteredField) => () => void;
  /** The field was changed: what the server said about it no longer counts. */
  changed: (pointer: string) => void;
}

export const FormContext = createContext<FormContextValue | null>(null);

export interface FieldState {
  id: string;
  error: string | null;
  /** For `aria-describedby`, in the order of `FieldFrame`. */
  describedBy: string | undefined;
  /** Call on every change, beside the field's own `onChange`. */
  noteChange: () => void;
  /** Call on blur: what is wrong is said once the field is left, not while it is typed. */
  noteBlur: () => void;
}

/** What every field shares: its id, what is wrong with it and when that is said, and its place in the form. */
export function useField(field: {
  label: string;
  pointer: string | undefined;
  hint: string | undefined;
  check: () => string | null;
}): FieldState {
  const { label, pointer, hint, check } = field;
  const id = useId();
  const form = useContext(FormContext);
  const round = form?.round ?? 0;
  const [leftInRound, setLeftInRound] = useState<number | null>(null);

  useEffect(() => {
    if (form === null || pointer === undefined) return undefined;
    return form.register(pointer, { id, label, check });
  });

  const refusal = pointer === undefined ? undefined : form?.refusals.get(pointer);
  const own = leftInRound === round || form?.tried === true ? check() : null;
  const error = own ?? refusal ?? null;
  const describedBy = [
    hint === undefined ? undefined : `${id}-hint`,
    error === null ? undefined : `${id}-error`,
  ].filter((part) => part !== undefined);
  return {
    id,
    error,
    describedBy: describedBy.length === 0 ? undefined : describedBy.join(' '),
    noteChange: () => {
      if (pointer !== undefined) form?.changed(pointer);
    },
    noteBlur: () => afterPress(() => setLeftInRound(round)),
  };
}

/**
 * Runs once no button or finger is down. What the press of a button takes the focus from may have
 * something to say; said at once, it would move the button away under the press, and the click be lost.
 */
function afterPress(say: () => void): void {
  const afterClick = (): void => void setTimeout(say);
  if (document.querySelector(':active') === null) afterClick();
  else window.addEventListener('mouseup', afterClick, { once: true, capture: true });
}
