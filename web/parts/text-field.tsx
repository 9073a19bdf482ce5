import { FieldFrame } from './field-frame.tsx';
import type { FieldProps } from './field-frame.tsx';
import { useField } from './form-context.ts';

/** A text; several lines where `lines` is given. */
export function TextField(
  props: FieldProps & {
    value: string;
    onChange: (text: string) => void;
    maxLength?: number;
    lines?: number;
  },
) {
  const { label, pointer, hint, required, value, onChange, maxLength, lines } = props;
  const state = useField({
    label,
    pointer,
    hint,
    check: () => {
      if (required === true && value.trim() === '') return 'A text is needed here.';
      if (maxLength !== undefined && value.length > maxLength) {
        return `It can be ${maxLength} characters long and is ${value.length}.`;
      }
      return null;
    },
  });
  const control = {
    id: state.id,
    value,
    required,
    'aria-invalid': state.error !== null,
    'aria-describedby': state.describedBy,
    onChange: (event: { target: { value: string } }) => {
      onChange(event.target.value);
      state.noteChange();
    },
    onBlur: state.noteBlur,
  };
  return (
    <FieldFrame
      kind="text"
      state={state}
      label={label}
      hint={hint}
      required={required}
      wide={lines !== undefined}
    >
      {lines === undefined ? (
        <input type="text" autoComplete="off" {...control} />
      ) : (
        <textarea rows={lines} {...control} />
      )}
    </FieldFrame>
  );
}
