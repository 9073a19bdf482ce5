import { useState } from 'react';
import { useQueryClient, useSuspenseQuery } from '@tanstack/react-query';
import { Link } from '@tanstack/react-router';
import type { Account, Role } from '../../../api/schemas/account.ts';
import { api, send } from '../../api.ts';
import { bindWhole } from '../../lib/binding.ts';
import { dateTimeText } from '../../lib/format.ts';
import { sessionQuery } from '../../lib/session.ts';
import { DataTable } from '../../parts/data-table.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { Form } from '../../parts/form.tsx';
import { Lead } from '../../parts/lead.tsx';
import { Page } from '../../parts/page.tsx';
import { AccountFields, accountOf, type AccountDraft } from './account-fields.tsx';
import { accountsQuery } from './accounts-queries.ts';
import { ManageAccount } from './manage-account.tsx';
import { OnceShown } from './once-shown.tsx';

function stateWords({ disabled, hasPassword, openSessions }: Account): string {
  if (disabled) return 'closed';
  if (!hasPassword) return 'no password chosen yet';
  return openSessions > 0 ? 'signed in' : 'open';
}

/** Who may come in, and how somebody is let in or shut out. */
export function AccountsPage() {
  const { data: accounts } = useSuspenseQuery(accountsQuery);
  const { data: session } = useSuspenseQuery(sessionQuery);
  return (
    <Page title="Accounts">
      <Lead>
        {session.accountsInUse
          ? 'Whoever opens these books signs in. Each person has an account of their own, so that what is entered bears their name.'
          : 'No account is in use: on this machine nobody has to sign in. Begin with your own; once its password is chosen, everybody signs in.'}
      </Lead>
      <p className="actions">
        <Link className="button" to="/accounts/links">
          Download links for the accountant
        </Link>
      </p>
      <DataTable
        caption="Accounts"
        narrow="stack"
        empty="No account yet."
        columns={[
          { key: 'name', label: 'Name', align: 'start' },
          { key: 'role', label: 'Role', align: 'start' },
          { key: 'state', label: 'State', align: 'start' },
          { key: 'codes', label: 'Codes', align: 'start' },
          { key: 'seen', label: 'Last used', align: 'start' },
        ]}
        rows={accounts.map((account) => ({
          key: account.id,
          cells: {
            name: account.name,
            role: account.role,
            state: stateWords(account),
            codes: account.hasCodes ? 'asked for' : 'no',
            seen: account.lastSeenAt === null ? 'never' : dateTimeText(new Date(account.lastSeenAt)),
          },
        }))}
      />
      <NewAccount first={!session.accountsInUse} />
      {accounts.map((account) => (
        <ManageAccount key={`${account.id} ${account.version}`} account={account} />
      ))}
    </Page>
  );
}

function NewAccount(props: { first: boolean }) {
  const { first } = props;
  const role: Role = first ? 'owner' : 'operator';
  const client = useQueryClient();
  const [draft, setDraft] = useState<AccountDraft>({ name: '', role, counterpartyId: '' });
  const [made, setMade] = useState<{ name: string; address: string } | null>(null);
  return (
    <>
      <h2>{first ? 'Your own account' : 'Let somebody in'}</h2>
      {made === null ? null : (
        <OnceShown address={made.address}>
          {`Give this link to ${made.name}. It is shown this once, holds for seven days, and whoever opens it first chooses the password.`}
        </OnceShown>
      )}
      <Form
        sends="POST /accounts"
        label="Make an account"
        saveLabel="Make this account"
        onSave={async () => {
          const { account, setupPath } = await send(api.accounts.$post({ json: accountOf(draft) }));
          setMade({ name: account.name, address: `${window.location.origin}${setupPath}` });
          setDraft({ name: '', role, counterpartyId: '' });
          await client.invalidateQueries({ queryKey: accountsQuery.queryKey });
        }}
      >
        <Fieldset legend="Account">
          <AccountFields
            form={bindWhole(draft, setDraft)}
            {...(first ? { roles: ['owner'] as const } : {})}
          />
        </Fieldset>
      </Form>
    </>
  );
}
