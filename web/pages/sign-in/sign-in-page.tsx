import { useState } from 'react';
import { ApiProblem, api, send } from '../../api.ts';
import { CheckField } from '../../parts/check-field.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { Form } from '../../parts/form.tsx';
import { Lead } from '../../parts/lead.tsx';
import { Page } from '../../parts/page.tsx';
import { SignInField } from '../../parts/sign-in-field.tsx';

/** Stands in place of every page until somebody has signed in; what is typed here is kept nowhere. */
export function SignInPage() {
  const [name, setName] = useState('');
  const [password, setPassword] = useState('');
  const [shown, setShown] = useState(false);
  const [code, setCode] = useState('');
  const [needsCode, setNeedsCode] = useState(false);

  async function signIn(): Promise<void> {
    try {
      await send(api.session.$post({ json: { name, password, code } }));
    } catch (error) {
      if (error instanceof ApiProblem && error.problem.type === '/problems/code-needed') setNeedsCode(true);
      throw error;
    }
    // Begun anew, so that nothing of whoever was here before is left.
    window.location.reload();
  }

  return (
    <Page title="Sign in">
      <Lead>The books of this mill are open to those who have an account.</Lead>
      <Form
        sends="POST /session"
        label="Sign in"
        saveLabel="Sign in"
        savingLabel="Signing in"
        onSave={signIn}
      >
        <Fieldset legend="Your account">
          <SignInField
            label="Name"
            pointer="/name"
            kind="username"
            required
            value={name}
            onChange={setName}
          />
          <SignInField
            label="Password"
            pointer="/password"
            kind="current-password"
            required
            shown={shown}
            value={password}
            onChange={setPassword}
          />
          <CheckField label="Show the password" value={shown} onChange={setShown} />
          {needsCode ? (
            <SignInField
              label="Code"
              pointer="/code"
              kind="one-time-code"
              required
              hint="The six digits that your telephone shows now, or one of your recovery codes."
              value={code}
              onChange={setCode}
            />
          ) : null}
        </Fieldset>
      </Form>
      <p className="muted">
        Password forgotten, or no account yet? Ask the owner of the mill for a link. The owner makes a new
        password at the mill’s computer, as the README says under “Letting others in”.
      </p>
    </Page>
  );
}
