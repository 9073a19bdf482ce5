import { useSuspenseQuery } from '@tanstack/react-query';
import { Link } from '@tanstack/react-router';
import { balancesQuery, seasonsQuery } from '../../lib/bench-queries.ts';
import { millQuery } from '../../lib/mill.ts';
import { useActor } from '../../lib/session.ts';
import { Lead } from '../../parts/lead.tsx';
import { Page } from '../../parts/page.tsx';
import { Backups } from './backups.tsx';
import { Balances } from './balances.tsx';
import { MillForm } from './mill-form.tsx';
import { Seasons } from './seasons.tsx';

/** The mill, its seasons and its balances. */
export function SettingsPage() {
  const { role } = useActor();
  const { data: mill } = useSuspenseQuery(millQuery);
  const { data: seasons } = useSuspenseQuery(seasonsQuery);
  const { data: balances } = useSuspenseQuery(balancesQuery);
  return (
    <Page title="Settings">
      <Lead>
        Units are how figures are shown and typed; what is on record stays as it was weighed and priced.
      </Lead>
      <MillForm mill={mill} />
      <Seasons seasons={seasons} />
      <Balances balances={balances} />
      <h2>Account codes</h2>
      <p>
        The codes under which the accountant’s journal books each kind of amount:{' '}
        <Link to="/settings/accounts">account codes</Link>.
      </p>
      <h2>Losses in cupelling</h2>
      <p>
        Whether test smelts are corrected for what cupel and muffle keep, and the proofs that tell it:{' '}
        <Link to="/cupellation">losses in cupelling</Link>.
      </p>
      {role === 'owner' ? <Backups /> : null}
      <h2>Changes</h2>
      <p>
        Who entered, changed or removed what, and when: <Link to="/changes">changes</Link>.
      </p>
    </Page>
  );
}
