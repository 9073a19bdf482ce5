import { useState } from 'react';
import { CheckField } from '../../parts/check-field.tsx';
import { SignInField } from '../../parts/sign-in-field.tsx';

/** A new password, typed twice. */
export function NewPasswordFields(props: {
  shortest: number;
  value: string;
  onChange: (password: string) => void;
}) {
  const { shortest, value, onChange } = props;
  const [again, setAgain] = useState('');
  const [shown, setShown] = useState(false);
  return (
    <>
      <SignInField
        label="New password"
        pointer="/password"
        kind="new-password"
        required
        shown={shown}
        hint={`${shortest} characters or more. A few words that do not belong together are easy to keep in mind; spaces, any letters and signs are fine.`}
        value={value}
        onChange={onChange}
        check={() =>
          Array.from(value).length < shortest ? `It must have at least ${shortest} characters.` : null
        }
      />
      <SignInField
        label="New password again"
        pointer="/again"
        kind="new-password"
        required
        shown={shown}
        value={again}
        onChange={setAgain}
        check={() => (again === value ? null : 'It differs from the one above.')}
      />
      <CheckField label="Show the passwords" value={shown} onChange={setShown} />
    </>
  );
}
