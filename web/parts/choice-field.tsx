import { FieldFrame } from './field-frame.tsx';
import type { FieldProps } from './field-frame.tsx';
import { useField } from './form-context.ts';

export interface Choice<Value extends string> {
  value: Value;
  label: string;
}

/** One of a few. `none` is the text of the empty choice; without it one choice is always made. */
export function ChoiceField<Value extends string>(
  props: FieldProps & {
    value: Value | '';
    onChange: (value: Value) => void;
    choices: readonly Choice<Value>[];
    none?: string;
  },
) {
  const { label, pointer, hint, required, value, onChange, choices, none } = props;
  const state = useField({
    label,
    pointer,
    hint,
    check: () => (required === true && value === '' ? 'A choice is needed here.' : null),
  });
  return (
    <FieldFrame kind="choice" state={state} label={label} hint={hint} required={required}>
      <select
        id={state.id}
        value={value}
        required={required}
        aria-invalid={state.error !== null}
        aria-describedby={state.describedBy}
        onChange={(event) => {
          onChange(event.target.value as Value);
          state.noteChange();
        }}
        onBlur={state.noteBlur}
      >
        {none === undefined && value !== '' ? null : <option value="">{none ?? 'Choose'}</option>}
        {choices.map((choice) => (
          <option key={choice.value} value={choice.value}>
            {choice.label}
          </option>
        ))}
      </select>
    </FieldFrame>
  );
}
