import { useState } from 'react';
import { useQueryClient } from '@tanstack/react-query';
import { api, send } from '../../api.ts';
import { useActor } from '../../lib/session.ts';
import { Fieldset } from '../../parts/fieldset.tsx';
import { Form } from '../../parts/form.tsx';
import { SignInField } from '../../parts/sign-in-field.tsx';
import { NewPasswordFields } from '../sign-in/new-password-fields.tsx';

/** Changing one's own password: every other place where one is signed in is signed out. */
export function OwnPassword() {
  const { hasCodes } = useActor();
  const client = useQueryClient();
  const [current, setCurrent] = useState('');
  const [password, setPassword] = useState('');
  const [code, setCode] = useState('');
  const [round, setRound] = useState(0);
  return (
    <>
      <h2>Password</h2>
      <details className="record-form">
        <summary>Change the password</summary>
        <Form
          sends="PUT /session/password"
          label="Change the password"
          saveLabel="Change the password"
          onSave={async () => {
            await send(api.session.password.$put({ json: { current, password, code } }));
            setCurrent('');
            setPassword('');
            setCode('');
            setRound(round + 1);
            await client.invalidateQueries({ queryKey: ['session'] });
          }}
        >
          <Fieldset legend="Password" hint="Everywhere else you are then signed out.">
            <SignInField
              label="Present password"
              pointer="/current"
              kind="current-password"
              required
              value={current}
              onChange={setCurrent}
            />
            {hasCodes ? (
              <SignInField
                label="Code"
                pointer="/code"
                kind="one-time-code"
                required
                value={code}
                onChange={setCode}
              />
            ) : null}
            <NewPasswordFields
              key={round}
              shortest={hasCodes ? 8 : 15}
              value={password}
              onChange={setPassword}
            />
          </Fieldset>
        </Form>
      </details>
    </>
  );
}
