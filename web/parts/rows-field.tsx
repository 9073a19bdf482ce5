import { useEffect, useRef } from 'react';
import type { ReactNode } from 'react';
import { items } from '../lib/binding.ts';
import type { Binding } from '../lib/binding.ts';
import { useField } from './form-context.ts';

/**
 * A list that grows and shrinks: reagents, sublots, penalties. `rowName` names
 * one row on its buttons, for example "reagent".
 */
export function RowsField<Item>(props: {
  legend: string;
  hint?: string;
  rows: Binding<Item[]>;
  newRow: () => Item;
  rowName: string;
  /** Fewest rows; those cannot be removed. */
  min?: number;
  max?: number;
  children: (row: Binding<Item>, index: number) => ReactNode;
}) {
  const { legend, hint, rows, newRow, rowName, min = 0, max = 100, children } = props;
  const state = useField({ label: legend, pointer: rows.pointer, hint, check: () => null });
  const addRef = useRef<HTMLButtonElement>(null);
  const listRef = useRef<HTMLDivElement>(null);
  const focusRow = useRef<number | null>(null);
  const bound = items(rows);

  useEffect(() => {
    if (focusRow.current === null) return;
    const row = listRef.current?.children.item(focusRow.current);
    row?.querySelector<HTMLElement>('input, select, textarea')?.focus();
    focusRow.current = null;
  });

  return (
    <fieldset className="rows-field" aria-describedby={state.describedBy}>
      <legend>{legend}</legend>
      {hint === undefined ? null : (
        <p className="fieldset-hint" id={`${state.id}-hint`}>
          {hint}
        </p>
      )}
      {state.error === null ? null : (
        <p className="field-error" id={`${state.id}-error`}>
          {state.error}
        </p>
      )}
      <div ref={listRef}>
        {bound.map((row, index) => (
          // Rows have no id before they are saved; the fields are controlled, so the place is a sound key.
          <div
            className="rows-field-row"
            role="group"
            aria-label={`${rowName} ${index + 1}`}
            key={row.pointer}
          >
            <div className="fields">{children(row, index)}</div>
            {bound.length <= min ? null : (
              <button
                type="button"
                className="plain"
                onClick={() => {
                  rows.update((list) => list.filter((_, position) => position !== index));
                  state.noteChange();
                  addRef.current?.focus();
                }}
              >
                Remove {rowName} {index + 1}
              </button>
            )}
          </div>
        ))}
      </div>
      {bound.length >= max ? null : (
        <button
          type="button"
          id={state.id}
          ref={addRef}
          onClick={() => {
            focusRow.current = bound.length;
            rows.update((list) => [...list, newRow()]);
            state.noteChange();
          }}
        >
          Add {rowName}
        </button>
      )}
    </fieldset>
  );
}
