import { useState } from 'react';
import { queryOptions, useQueryClient, useSuspenseQuery } from '@tanstack/react-query';
import { api, send } from '../../api.ts';
import { Fieldset } from '../../parts/fieldset.tsx';
import { Form } from '../../parts/form.tsx';
import { Notice } from '../../parts/notice.tsx';
import { QrCode } from '../../parts/qr-code.tsx';
import { SignInField } from '../../parts/sign-in-field.tsx';

const codesQuery = queryOptions({
  queryKey: ['session', 'codes'],
  queryFn: () => send(api.session.codes.$get()),
});

interface Offered {
  secret: string;
  link: string;
}

/** Codes from a telephone beside the password: begin, confirm, stop. */
export function OwnCodes() {
  const { data: codes } = useSuspenseQuery(codesQuery);
  const client = useQueryClient();
  const [offered, setOffered] = useState<Offered | null>(null);
  const [recoveryCodes, setRecoveryCodes] = useState<readonly string[] | null>(null);
  const changed = (): Promise<void> => client.invalidateQueries({ queryKey: ['session'] });
  return (
    <>
      <h2>Codes from a telephone</h2>
      {recoveryCodes === null ? null : <RecoveryCodes codes={recoveryCodes} />}
      {codes.inUse ? (
        <>
          <p>
            Beside your password you are asked for a code. Of your recovery codes {codes.recoveryCodesLeft}{' '}
            are left.
          </p>
          <PasswordForm
            summary="Stop asking for codes"
            legend="Your password must then have 15 characters or more, because it stands alone."
            save={async (password) => {
              await send(api.session.codes.stop.$post({ json: { password } }));
              setRecoveryCodes(null);
              await changed();
            }}
          />
        </>
      ) : (
        <p>
          Whoever learns your password can come in with it. With codes they would need your telephone too: a
          program on it shows six new digits every half minute, without a network.
        </p>
      )}
      {offered !== null ? (
        <Confirm
          offered={offered}
          confirmed={async (fresh) => {
            setOffered(null);
            setRecoveryCodes(fresh);
            await changed();
          }}
        />
      ) : (
        <PasswordForm
          summary={codes.inUse ? 'Begin with another telephone' : 'Begin with codes'}
          legend="Your password once more, before the secret is shown."
          save={async (password) => setOffered(await send(api.session.codes.$post({ json: { password } })))}
        />
      )}
    </>
  );
}

function PasswordForm(props: {
  summary: string;
  legend: string;
  save: (password: string) => Promise<unknown>;
}) {
  const { summary, legend, save } = props;
  const [password, setPassword] = useState('');
  return (
    <details className="record-form">
      <summary>{summary}</summary>
      <Form
        sends="POST /session/codes"
        label={summary}
        saveLabel={summary}
        onSave={async () => {
          await save(password);
          setPassword('');
        }}
      >
        <Fieldset legend="Password" hint={legend}>
          <SignInField
            label="Present password"
            pointer="/password"
            kind="current-password"
            required
            value={password}
            onChange={setPassword}
          />
        </Fieldset>
      </Form>
    </details>
  );
}

function Confirm(props: { offered: Offered; confirmed: (recoveryCodes: string[]) => Promise<void> }) {
  const { offered, confirmed } = props;
  const [code, setCode] = useState('');
  const groups = offered.secret.match(/.{1,4}/g) ?? [];
  return (
    <>
      <p>
        Point the telephone’s program for one-time codes at this square. Or type the secret below into it
        (time-based, six digits), or <a href={offered.link}>open it there</a> if you read this on the
        telephone. Then enter the first code that it shows.
      </p>
      <QrCode text={offered.link} label="The secret as a QR code for the telephone’s camera" />
      <p>
        <code className="secret">{groups.join(' ')}</code>
      </p>
      <Form
        sends="PUT /session/codes"
        label="Confirm the first code"
        saveLabel="Ask for codes from now on"
        onSave={async () => {
          const { recoveryCodes } = await send(api.session.codes.$put({ json: { code } }));
          await confirmed(recoveryCodes);
        }}
      >
        <Fieldset legend="First code">
          <SignInField
            label="Code"
            pointer="/code"
            kind="one-time-code"
            required
            value={code}
            onChange={setCode}
          />
        </Fieldset>
      </Form>
    </>
  );
}

function RecoveryCodes(props: { codes: readonly string[] }) {
  return (
    <>
      <Notice level="warning">
        Write these recovery codes down and keep them apart from the telephone. They are shown this once. Each
        opens the account one time when the telephone is lost.
      </Notice>
      <ul className="secret-list">
        {props.codes.map((code) => (
          <li key={code}>
            <code className="secret">{code}</code>
          </li>
        ))}
      </ul>
    </>
  );
}
