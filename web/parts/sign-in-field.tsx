import { FieldFrame } from './field-frame.tsx';
import type { FieldProps } from './field-frame.tsx';
import { useField } from './form-context.ts';

/** What proves somebody: a name, a password or a code. Browsers and password managers know it by `kind`; it may be pasted. */
export function SignInField(
  props: FieldProps & {
    kind: 'username' | 'current-password' | 'new-password' | 'one-time-code';
    value: string;
    onChange: (text: string) => void;
    /** Show a password as it is typed. */
    shown?: boolean;
    /** What is wrong with the value, beside its being missing. */
    check?: () => string | null;
  },
) {
  const { label, pointer, hint, required, kind, value, onChange, shown = false, check } = props;
  const state = useField({
    label,
    pointer,
    hint,
    check: () => {
      if (required === true && value === '') return 'It is needed here.';
      return check?.() ?? null;
    },
  });
  const isPassword = kind === 'current-password' || kind === 'new-password';
  return (
    <FieldFrame kind="text" state={state} label={label} hint={hint} required={required}>
      <input
        id={state.id}
        type={isPassword && !shown ? 'password' : 'text'}
        inputMode={kind === 'one-time-code' ? 'text' : undefined}
        autoComplete={kind}
        autoCapitalize="none"
        spellCheck={false}
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
