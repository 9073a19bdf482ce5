import type { FieldProps } from './field-frame.tsx';
import { useField } from './form-context.ts';

/** Yes or no. The label is a statement that is true when checked. */
export function CheckField(
  props: Omit<FieldProps, 'required'> & { value: boolean; onChange: (checked: boolean) => void },
) {
  const { label, pointer, hint, value, onChange } = props;
  const state = useField({ label, pointer, hint, check: () => null });
  return (
    <div className={state.error === null ? 'field' : 'field field-error-mark'}>
      <div className="field-check">
        <input
          id={state.id}
          type="checkbox"
          checked={value}
          aria-invalid={state.error !== null}
          aria-describedby={state.describedBy}
          onChange={(event) => {
            onChange(event.target.checked);
            state.noteChange();
          }}
          onBlur={state.noteBlur}
        />
        <label htmlFor={state.id}>{label}</label>
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
