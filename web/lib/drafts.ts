import { useEffect, useRef, useState } from 'react';
import type { ChangedMeanwhile } from '../api.ts';
import { bindWhole } from './binding.ts';
import { changedMeanwhile, leafAt, withLeaf } from './changed-meanwhile.ts';
import type { MeanwhileField } from './changed-meanwhile.ts';
import type { Binding } from './binding.ts';
import { useOwner } from './owner.ts';
import { pageStore } from './page-store.ts';
import type { OwnerChoices } from './owner.ts';

/** Typing is kept this long after it stops, so that not every letter is written. */
const keepAfterMs = 150;

/** The part of `localStorage` that drafts need. */
export type DraftStore = Pick<Storage, 'getItem' | 'setItem' | 'removeItem'>;

export interface StoredDraft<Value> {
  savedAt: string;
  /** What the form started from when the draft was begun, as JSON. */
  startedFrom: string;
  value: Value;
  /** Who changed the record before this draft could be saved. */
  changedBy?: Pick<ChangedMeanwhile, 'at' | 'actor'>[];
}

/** What became of an earlier draft when a form was opened. */
export type DraftState =
  | { kind: 'none' }
  | {
      kind: 'restored';
      savedAt: Date;
      recordChanged: boolean;
      changedBy?: Pick<ChangedMeanwhile, 'at' | 'actor'>[];
      /** What others changed, beside what is typed; each can be taken or left. */
      meanwhile?: MeanwhileChoice[];
    }
  /** Of a form whose fields are different now. */
  | { kind: 'unreadable' }
  /** The browser keeps nothing: private mode, or storage is full. */
  | { kind: 'not-kept' };

/** The name under which a draft is kept; figures typed in other units are another draft. */
export function draftName(form: string, choices: OwnerChoices): string {
  const units = [
    choices.massUnit,
    choices.metalUnit,
    choices.gradeUnit,
    choices.temperatureUnit,
    choices.decimalComma ? ',' : '.',
  ];
  return `poursheet draft | ${form} | ${units.join(' ')}`;
}

/** Whether two values have the same fields of the same kinds; lists may differ in length. */
export function sameShape(expected: unknown, found: unknown): boolean {
  if (Array.isArray(expected)) {
    const [first] = expected as unknown[];
    return (
      Array.isArray(found) &&
      (first === undefined || (found as unknown[]).every((item) => sameShape(first, item)))
    );
  }
  if (expected === null || found === null || typeof expected !== 'object' || typeof found !== 'object') {
    return expected === null || found === null || typeof expected === typeof found;
  }
  if (Array.isArray(found)) return false;
  const names = Object.keys(expected);
  return (
    names.length === Object.keys(found).length &&
    names.every((name) =>
      Object.hasOwn(found, name)
        ? sameShape((expected as Record<string, unknown>)[name], (found as Record<string, unknown>)[name])
        : false,
    )
  );
}

/** A field that others changed, with what it was, what they made of it, and what stands in the form. */
export interface MeanwhileChoice extends MeanwhileField {
  takeTheirs: () => void;
  /** Back to what was typed here, where theirs was taken. */
  keepMine: (() => void) | null;
}

export interface OpenedDraft<Value> {
  value: Value;
  startedFrom: string;
  state: DraftState;
}

/** Reads what is kept under a name and says whether it can be put back into the form. */
export function readDraft<Value>(store: DraftStore, name: string, initial: Value): OpenedDraft<Value> {
  const fresh = { value: initial, startedFrom: JSON.stringify(initial) };
  let kept: StoredDraft<Value> | null;
  try {
    const text = store.getItem(name);
    if (text === null) return { ...fresh, state: { kind: 'none' } };
    kept = JSON.parse(text) as StoredDraft<Value>;
  } catch {
    return { ...fresh, state: { kind: 'unreadable' } };
  }
  if (!sameShape(initial, kept?.value)) return { ...fresh, state: { kind: 'unreadable' } };
  return {
    value: kept.value,
    startedFrom: kept.startedFrom,
    state: {
      kind: 'restored',
      savedAt: new Date(kept.savedAt),
      recordChanged: kept.startedFrom !== fresh.startedFrom,
      ...(kept.changedBy === undefined ? {} : { changedBy: kept.changedBy }),
    },
  };
}

/** Keeps a draft; false where the browser does not. */
export function keepDraft<Value>(store: DraftStore, name: string, draft: StoredDraft<Value>): boolean {
  try {
    store.setItem(name, JSON.stringify(draft));
    return true;
  } catch {
    return false;
  }
}

export interface Draft<Value> {
  /** Under which it is kept. */
  name: string;
  /** The whole form; use `at` and `items` to reach its fields. */
  form: Binding<Value>;
  state: DraftState;
  /** Back to what the form started from. */
  discard: () => void;
  /** After saving: forgets the draft and goes on from what was saved. */
  saved: (next?: Value) => void;
  /** Whether anything differs from what the form started from. */
  changed: boolean;
  /** Keeps it at once, with who changed the record meanwhile. */
  keepNow: (changedBy?: Pick<ChangedMeanwhile, 'at' | 'actor'>[]) => void;
}

/** The browser's store for drafts; null where the browser forbids it. */
function browserStore(): DraftStore | null {
  try {
    return window.localStorage;
  } catch {
    return null;
  }
}

function openDraft<Value>(name: string, initial: Value): OpenedDraft<Value> {
  const store = browserStore();
  return store === null
    ? { value: initial, startedFrom: JSON.stringify(initial), state: { kind: 'not-kept' } }
    : readDraft(store, name, initial);
}

/** A restored draft on a record that moved on: what was not touched here is as others left it. */
function followed<Value>({ value, startedFrom, state }: OpenedDraft<Value>, start: Value): Value {
  if (state.kind !== 'restored' || !state.recordChanged) return value;
  return changedMeanwhile(JSON.parse(startedFrom), start, value)
    .filter(({ typed, was }) => typed === was)
    .reduce((now, { pointer, theirs }) => withLeaf(now, pointer, theirs), value);
}

/**
 * The state of a form that survives a closed tab. `formName` names the form and
 * the record ("lot/new", "lot/3f2…"); `initial` is what it starts from and must
 * be plain JSON with texts for typed figures. Give the form component a `key`
 * of the same name, so that another record is another draft.
 */
export function useDraft<Value>(formName: string, initial: Value): Draft<Value> {
  const name = draftName(formName, useOwner());
  const [start, setStart] = useState(initial);
  const [opened] = useState(() => openDraft(name, initial));
  const [value, setValue] = useState(() => followed(opened, initial));
  const [state, setState] = useState<DraftState>(opened.state);
  // What the draft was begun on, which a restored draft keeps even if the record has moved on since.
  const [startedFrom, setStartedFrom] = useState(opened.startedFrom);
  const changed = JSON.stringify(value) !== JSON.stringify(start);
  const changedBy = useRef(opened.state.kind === 'restored' ? opened.state.changedBy : undefined);

  useEffect(() => {
    const store = browserStore();
    if (store === null || value === opened.value) return undefined;
    const timer = setTimeout(() => {
      if (!changed) store.removeItem(name);
      else if (
        !keepDraft(store, name, {
          savedAt: new Date().toISOString(),
          startedFrom,
          value,
          ...(changedBy.current === undefined ? {} : { changedBy: changedBy.current }),
        })
      ) {
        setState({ kind: 'not-kept' });
      }
    }, keepAfterMs);
    return () => clearTimeout(timer);
  }, [changed, name, opened, startedFrom, value]);

  function goOnFrom(next: Value): void {
    browserStore()?.removeItem(name);
    setStart(next);
    setStartedFrom(JSON.stringify(next));
    setValue(next);
    setState({ kind: 'none' });
  }
  const meanwhile = (): MeanwhileChoice[] => {
    const typed = opened.value;
    return changedMeanwhile(JSON.parse(startedFrom), start, typed).map((field) => ({
      ...field,
      mine: leafAt(value, field.pointer),
      takeTheirs: () => setValue((now) => withLeaf(now, field.pointer, field.theirs)),
      keepMine:
        field.typed === field.theirs || field.typed === field.was
          ? null
          : () => setValue((now) => withLeaf(now, field.pointer, field.typed)),
    }));
  };
  return {
    name,
    form: bindWhole(value, setValue),
    state: state.kind === 'restored' && state.recordChanged ? { ...state, meanwhile: meanwhile() } : state,
    changed,
    keepNow: (by) => {
      changedBy.current = by ?? changedBy.current;
      const draft = { savedAt: new Date().toISOString(), startedFrom, value };
      keepDraft(pageStore(), name, by === undefined ? draft : { ...draft, changedBy: by });
    },
    discard: () => goOnFrom(start),
    saved: (next) => goOnFrom(next ?? value),
  };
}
