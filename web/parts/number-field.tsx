import { useOwner } from '../lib/owner.ts';
import { checkNumber } from '../lib/check-number.ts';
import { FieldFrame } from './field-frame.tsx';
import type { FieldProps } from './field-frame.tsx';
import { useField } from './form-context.ts';

export interface NumberFieldProps extends FieldProps {
  /** Exactly what is typed; read it with `numberOf` or `decimalOf`. */
  value: string;
  onChange: (typed: string) => void;
  /** '' for a plain count. */
  unit: string;
  /** In the shown unit; 0 unless told. */
  min?: number;
  max?: number;
  decimals?: number;
}

/** A number with its unit. What is typed is never altered; what cannot be read in exactly one way is refused. */
export function NumberField(props: NumberFieldProps) {
  const { label, pointer, hint, required, value, onChange, unit, min = 0, max, decimals } = props;
  const { decimalComma } = useOwner();
  const state = useField({
    label,
    pointer,
    hint,
    check: () =>
      checkNumber(value, {
        required: required === true,
        min,
        max: max ?? Number.POSITIVE_INFINITY,
        decimals: decimals ?? null,
        unit,
        decimalComma,
      }),
  });
  return (
    <FieldFrame kind="number" state={state} label={label} hint={hint} required={required} unit={unit}>
      <input
        id={state.id}
        type="text"
        inputMode={min < 0 ? 'text' : 'decimal'}
        autoComplete="off"
        value={value}
        required={required}
        aria-invalid={state.error !== null}
        aria-describedby={state.describedBy}
        onChange={(event) => {
          onChange(event.target.value);
          state.noteChange();
        }}
        onBlur={state.noteBlur}
      />
    </FieldFrame>
  );
}
