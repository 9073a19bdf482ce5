import { useState } from 'react';
import { FieldFrame } from './field-frame.tsx';
import type { FieldProps } from './field-frame.tsx';
import { useField } from './form-context.ts';
import { dateText } from '../lib/format.ts';

/** A day. The value is an ISO date, '' where none is chosen. */
export function DateField(
  props: FieldProps & { value: string; onChange: (isoDate: string) => void; min?: string; max?: string },
) {
  const { label, pointer, hint, required, value, onChange, min, max } = props;
  const [incomplete, setIncomplete] = useState(false);
  const state = useField({
    label,
    pointer,
    hint,
    check: () => {
      if (incomplete) return 'The date is not complete, or there is no such day.';
      if (value === '') return required === true ? 'A date is needed here.' : null;
      if (min !== undefined && value < min) return `It must not be before ${dateText(min)}.`;
      if (max !== undefined && value > max) return `It must not be after ${dateText(max)}.`;
      return null;
    },
  });
  return (
    <FieldFrame kind="date" state={state} label={label} hint={hint} required={required}>
      <input
        id={state.id}
        type="date"
        value={value}
        min={min}
        max={max ?? '2199-12-31'}
        required={required}
        aria-invalid={state.error !== null}
        aria-describedby={state.describedBy}
        onChange={(event) => {
          setIncomplete(event.target.validity.badInput);
          onChange(event.target.value);
          state.noteChange();
        }}
        onBlur={(event) => {
          setIncomplete(event.target.validity.badInput);
          state.noteBlur();
        }}
      />
    </FieldFrame>
  );
}
