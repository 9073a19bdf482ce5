import type { FieldProps } from '../../parts/field-frame.tsx';
import { TextField } from '../../parts/text-field.tsx';

/** A currency by its code, typed in capitals. */
export function CurrencyField(props: FieldProps & { value: string; onChange: (code: string) => void }) {
  const { hint = 'Three capitals, for example USD.', onChange, ...rest } = props;
  return (
    <TextField
      {...rest}
      hint={hint}
      maxLength={3}
      onChange={(typed) => onChange(typed.trim().toUpperCase())}
    />
  );
}
