import { useSuspenseQuery } from '@tanstack/react-query';
import { Link } from '@tanstack/react-router';
import { paymentState } from '../../../api/calc/settlement/payment-state.ts';
import type { StatementSummary } from '../../../api/schemas/statement.ts';
import {
  batchesToSettleQuery,
  draftsQuery,
  issuedOfSeasonQuery,
  statementsOfProductsQuery,
  unpaidQuery,
} from '../../lib/book-queries.ts';
import { todayHere } from '../../lib/today.ts';
import { useAsked } from '../../lib/use-asked.ts';
import { useSeason } from '../../lib/use-season.ts';
import { IfOpen } from '../../parts/if-open.tsx';
import { Lead } from '../../parts/lead.tsx';
import { Page } from '../../parts/page.tsx';
import { PageLinks } from '../../parts/page-links.tsx';
import { SeasonChoice } from '../../parts/season-choice.tsx';
import { ChooseProduct } from './choose-product.tsx';
import { issuedFor, settleable } from './products.ts';
import { StatementTable } from './statement-table.tsx';

/** Whether a product still waits for its final statement. */
const isOpen = (statements: readonly StatementSummary[], productId: string): boolean =>
  !issuedFor(statements, productId).some(({ stage }) => stage === 'final');

/** How many, and whether there are more than were counted. */
interface Counted {
  count: number;
  more: boolean;
}

function leadText(drafts: Counted, open: Counted, overdue: Counted): string {
  const said = ({ count, more }: Counted, one: string, many: string): string => {
    if (more) return `more than ${count} ${many}`;
    return count === 1 ? `one ${one}` : `${count === 0 ? 'no' : count} ${many}`;
  };
  const first =
    open.count === 0
      ? 'every bar and parcel is settled'
      : `${said(open, 'bar or parcel waits', 'bars or parcels wait')} for a final settlement`;
  const late =
    overdue.count === 0 ? '' : `; ${said(overdue, 'statement is', 'statements are')} overdue for payment`;
  return `${first.charAt(0).toUpperCase()}${first.slice(1)}; ${said(drafts, 'draft is', 'drafts are')} in hand${late}.`;
}

/** Drafts, what is still to be settled, and the issued statements of a season. */
export function SettlementsPage() {
  const afterOpen = useAsked('open');
  const { data: drafts } = useSuspenseQuery(draftsQuery);
  const { data: unpaid } = useSuspenseQuery(unpaidQuery);
  const { data: made } = useSuspenseQuery(batchesToSettleQuery('made', '', ''));
  const { data: toSettle } = useSuspenseQuery(batchesToSettleQuery('open', '', afterOpen));
  const products = settleable(toSettle.rows);
  const { data: statements } = useSuspenseQuery(
    statementsOfProductsQuery(products.map(({ product }) => product.id)),
  );
  const open = products.filter(({ product }) => isOpen(statements, product.id));
  const today = todayHere();
  const overdue = unpaid.rows.filter((one) => paymentState({ ...one, on: today }).state === 'overdue');
  return (
    <Page title="Settlements">
      {made.rows.length === 0 ? (
        <Lead>
          Nothing can be settled yet: there is no bar and no parcel.{' '}
          <Link to="/batches">Enter what came of a batch</Link> first.
        </Lead>
      ) : (
        <Lead>
          {leadText(
            { count: drafts.rows.length, more: drafts.next !== null },
            { count: open.length, more: afterOpen !== '' || toSettle.next !== null },
            { count: overdue.length, more: unpaid.next !== null },
          )}
        </Lead>
      )}
      {made.rows.length === 0 ? null : (
        <p className="actions">
          <IfOpen change="POST /statements">
            <Link className="button" to="/settlements/new">
              New statement
            </Link>
          </IfOpen>
        </p>
      )}
      {drafts.rows.length === 0 ? null : (
        <>
          <h2>Drafts</h2>
          <StatementTable caption="Drafts, which bind nobody; newest first" statements={drafts.rows} />
        </>
      )}
      {open.length === 0 ? null : (
        <>
          <h2>To be settled</h2>
          <ChooseProduct products={open} />
          <PageLinks of="products" name="open" after={afterOpen} next={toSettle.next} />
        </>
      )}
      <h2>Issued</h2>
      <Issued />
    </Page>
  );
}

function Issued() {
  const { seasons, season, choose } = useSeason();
  if (season === undefined) return null;
  return (
    <>
      <SeasonChoice seasons={seasons} season={season} choose={choose} />
      <IssuedOfSeason seasonId={season.id} seasonName={season.name} />
    </>
  );
}

function IssuedOfSeason({ seasonId, seasonName }: { seasonId: string; seasonName: string }) {
  const after = useAsked('after');
  const { data: page } = useSuspenseQuery(issuedOfSeasonQuery(seasonId, after));
  return (
    <>
      <StatementTable
        caption={`Issued statements of ${seasonName}, newest first`}
        statements={page.rows}
        empty="None has been issued yet."
      />
      <PageLinks of="statements" after={after} next={page.next} />
    </>
  );
}
