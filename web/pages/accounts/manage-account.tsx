import { useState } from 'react';
import { useQuery, useQueryClient } from '@tanstack/react-query';
import type { Account } from '../../../api/schemas/account.ts';
import { api, send } from '../../api.ts';
import { bindWhole } from '../../lib/binding.ts';
import { CheckField } from '../../parts/check-field.tsx';
import { ConfirmButton } from '../../parts/confirm-button.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { Form } from '../../parts/form.tsx';
import { AccountFields, accountOf } from './account-fields.tsx';
import { accountsQuery, sessionsOfQuery } from './accounts-queries.ts';
import { OnceShown } from './once-shown.tsx';
import { SessionsTable } from './sessions-table.tsx';

/** One account in the owner's hands: name and role, a new password, closing it, and where it is signed in. */
export function ManageAccount(props: { account: Account }) {
  const { account } = props;
  const client = useQueryClient();
  const [isOpen, setOpen] = useState(false);
  const [draft, setDraft] = useState({
    name: account.name,
    role: account.role,
    counterpartyId: account.counterpartyId ?? '',
  });
  const [disabled, setDisabled] = useState(account.disabled);
  const [address, setAddress] = useState<string | null>(null);
  const changed = (): Promise<void> => client.invalidateQueries({ queryKey: accountsQuery.queryKey });
  return (
    <details className="record-form" onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>Change {account.name}</summary>
      <Form
        sends="PUT /accounts/:id"
        label={`Change ${account.name}`}
        saveLabel="Save the account"
        onSave={async () => {
          const json = { ...accountOf(draft), disabled, version: account.version };
          await send(api.accounts[':id'].$put({ param: { id: account.id }, json }));
          await changed();
        }}
      >
        <Fieldset legend="Account">
          <AccountFields form={bindWhole(draft, setDraft)} />
          <CheckField
            label="This account is closed"
            hint="It is signed out at once and cannot be signed in to. What was entered with it stays under its name."
            pointer="/disabled"
            value={disabled}
            onChange={setDisabled}
          />
        </Fieldset>
      </Form>
      {address === null ? null : (
        <OnceShown address={address}>
          {`Give this link to ${account.name}. It is shown this once, holds for seven days, and whoever opens it first chooses the password.`}
        </OnceShown>
      )}
      <p className="actions">
        <ConfirmButton
          sends="POST /accounts/:id/set-up-link"
          label="New password"
          question={`${account.name} chooses a new password under a link. Once it is chosen, the account is signed out everywhere and codes from its telephone are asked for no more.`}
          confirmLabel="Make the link"
          onConfirm={async () => {
            const made = await send(api.accounts[':id']['set-up-link'].$post({ param: { id: account.id } }));
            setAddress(`${window.location.origin}${made.setupPath}`);
          }}
        />
      </p>
      {isOpen ? <Sessions accountId={account.id} /> : null}
    </details>
  );
}

function Sessions(props: { accountId: string }) {
  const { accountId } = props;
  const { data: sessions } = useQuery(sessionsOfQuery(accountId));
  const client = useQueryClient();
  if (sessions === undefined) return null;
  return (
    <SessionsTable
      sessions={sessions}
      end={async (sessionId) => {
        const param = { id: accountId, sessionId };
        await send(api.accounts[':id'].sessions[':sessionId'].$delete({ param }));
        await client.invalidateQueries({ queryKey: accountsQuery.queryKey });
      }}
    />
  );
}
