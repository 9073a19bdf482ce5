import { useState } from 'react';
import { api, send } from '../../api.ts';
import { Fieldset } from '../../parts/fieldset.tsx';
import { Form } from '../../parts/form.tsx';
import { Lead } from '../../parts/lead.tsx';
import { Page } from '../../parts/page.tsx';
import { NewPasswordFields } from './new-password-fields.tsx';

/** Where the link of a new account leads: its password is chosen here, once. */
export function SetPasswordPage() {
  // After the #, which browsers send to no server.
  const [token] = useState(() => window.location.hash.slice(1));
  const [password, setPassword] = useState('');
  const [name, setName] = useState<string | null>(null);
  if (token === '')
    return (
      <Page title="Choose a password">
        <p>
          This page needs the link that the owner of the mill gave you, whole. Open it again as you got it, or
          ask for a new one.
        </p>
      </Page>
    );
  if (name !== null)
    return (
      <Page title="Password chosen">
        <Lead>
          From now on you sign in as {name}, with the password that you chose. The link does not open anything
          any more.
        </Lead>
        <p className="actions">
          <a className="button" href="/">
            Sign in
          </a>
        </p>
      </Page>
    );
  return (
    <Page title="Choose a password">
      <Lead>The link holds for seven days and opens this page once.</Lead>
      <Form
        sends="POST /session/set-up"
        label="Choose a password"
        saveLabel="Keep this password"
        onSave={async () => {
          const made = await send(api.session['set-up'].$post({ json: { token, password } }));
          setName(made.name);
        }}
      >
        <Fieldset legend="Your password">
          <NewPasswordFields shortest={15} value={password} onChange={setPassword} />
        </Fieldset>
      </Form>
    </Page>
  );
}
