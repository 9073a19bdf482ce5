import { queryOptions, useQueryClient, useSuspenseQuery } from '@tanstack/react-query';
import { Link } from '@tanstack/react-router';
import { api, send } from '../../api.ts';
import { roleSentences, roleWords, signOut, useActor } from '../../lib/session.ts';
import { Lead } from '../../parts/lead.tsx';
import { Page } from '../../parts/page.tsx';
import { OwnCodes } from './own-codes.tsx';
import { OwnPassword } from './own-password.tsx';
import { SessionsTable } from './sessions-table.tsx';

const ownSessionsQuery = queryOptions({
  queryKey: ['session', 'sessions'],
  queryFn: () => send(api.session.sessions.$get()),
});

/** One's own account: who one is here, password, codes, and where one is signed in. */
export function AccountPage() {
  const { accountId, name, role } = useActor();
  if (accountId === null)
    return (
      <Page title="Your account">
        <Lead>Nobody has to sign in on this machine, because no account has been made yet.</Lead>
        <p>
          To let others in, begin with <Link to="/accounts">the accounts</Link>.
        </p>
      </Page>
    );
  return (
    <Page title="Your account">
      <Lead>
        You are signed in as {name}, {roleWords[role]}.
      </Lead>
      <p>What this role may do: {roleSentences[role]}</p>
      <p className="actions">
        <button type="button" onClick={() => void signOut()}>
          Sign out
        </button>
      </p>
      <OwnPassword />
      <OwnCodes />
      <OwnSessions />
    </Page>
  );
}

function OwnSessions() {
  const { data: sessions } = useSuspenseQuery(ownSessionsQuery);
  const client = useQueryClient();
  return (
    <>
      <h2>Where you are signed in</h2>
      <p>A session ends after a day without use, and after thirty days in any case.</p>
      <SessionsTable
        sessions={sessions}
        end={async (id) => {
          await send(api.session.sessions[':id'].$delete({ param: { id } }));
          await client.invalidateQueries({ queryKey: ownSessionsQuery.queryKey });
        }}
      />
    </>
  );
}
