import type { ReactNode } from 'react';
import type { FieldState } from './form-context.ts';

/** What every field takes beside its value. */
export interface FieldProps {
  label: string;
  /** JSON pointer of the value in what is sent, for example `/reagents/0/massG`. */
  pointer?: string;
  hint?: string;
  required?: boolean;
}

/** Label, hint, error and unit around one native control. */
export function FieldFrame(props: {
  state: FieldState;
  label: string;
  hint?: string | undefined;
  required?: boolean | undefined;
  unit?: string | undefined;
  kind: 'number' | 'text' | 'date' | 'choice';
  wide?: boolean;
  children: ReactNode;
}) {
  const { state, label, hint, required, unit, kind, wide, children } = props;
  const classes = [
    'field',
    `field-${kind}`,
    wide === true ? 'wide' : '',
    state.error === null ? '' : 'field-error-mark',
  ];
  return (
    <div className={classes.filter((name) => name !== '').join(' ')}>
      <label htmlFor={state.id}>
        {label}
        {unit === undefined || unit === '' ? null : <span className="visually-hidden">, {unit}</span>}
        {required === true ? <span className="field-required"> (required)</span> : null}
      </label>
      <div className="field-input">
        {children}
        {unit === undefined || unit === '' ? null : (
          <span className="field-unit" aria-hidden="true">
            {unit}
          </span>
        )}
      </div>
      {hint === undefined ? null : (
        <p className="field-hint" id={`${state.id}-hint`}>
          {hint}
        </p>
      )}
      {state.error === null ? null : (
        <p className="field-error" id={`${state.id}-error`}>
          {state.error}
        </p>
      )}
    </div>
  );
}
