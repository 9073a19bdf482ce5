import { useSuspenseQuery } from '@tanstack/react-query';
import { Link } from '@tanstack/react-router';
import { paymentState } from '../../../api/calc/settlement/payment-state.ts';
import type { StatementSummary } from '../../../api/schemas/statement.ts';
import { batchesQuery, statementsQuery } from '../../lib/book-queries.ts';
import { todayHere } from '../../lib/today.ts';
import { Lead } from '../../parts/lead.tsx';
import { Page } from '../../parts/page.tsx';
import { ChooseProduct } from './choose-product.tsx';
import { issuedFor, settleable } from './products.ts';
import { StatementTable } from './statement-table.tsx';

/** Whether a product still waits for its final statement. */
const isOpen = (statements: readonly StatementSummary[], productId: string): boolean =>
  !issuedFor(statements, productId).some(({ stage }) => stage === 'final');

function leadText(issued: number, drafts: number, open: number, overdue: number): string {
  const count = (number: number, one: string, many: string): string =>
    number === 1 ? `one ${one}` : `${number === 0 ? 'no' : number} ${many}`;
  const first = `${count(issued, 'statement is', 'statements are')} issued, ${count(drafts, 'draft', 'drafts')} in hand`;
  const rest =
    open === 0
      ? 'every bar and parcel is settled'
      : `${count(open, 'bar or parcel waits', 'bars or parcels wait')} for a final settlement`;
  const late = overdue === 0 ? '' : ` ${overdue === 1 ? 'One is' : `${overdue} are`} overdue for payment.`;
  return `${first.charAt(0).toUpperCase()}${first.slice(1)}; ${rest}.${late}`;
}

/** Drafts, what is still to be settled, and every issued statement in the order of its number. */
export function SettlementsPage() {
  const { data: statements } = useSuspenseQuery(statementsQuery);
  const { data: batches } = useSuspenseQuery(batchesQuery);
  const issued = statements.filter((one) => one.status === 'issued');
  const drafts = statements.filter((one) => one.status === 'draft');
  const today = todayHere();
  const overdue = issued.filter((one) => paymentState({ ...one, on: today }).state === 'overdue');
  const products = settleable(batches);
  const open = products.filter(({ product }) => isOpen(statements, product.id));
  return (
    <Page title="Settlements">
      {products.length === 0 ? (
        <Lead>
          Nothing can be settled yet: there is no bar and no parcel.{' '}
          <Link to="/batches">Enter what came of a batch</Link> first.
        </Lead>
      ) : (
        <Lead>{leadText(issued.length, drafts.length, open.length, overdue.length)}</Lead>
      )}
      {products.length === 0 ? null : (
        <p className="actions">
          <Link className="button" to="/settlements/new">
            New statement
          </Link>
        </p>
      )}
      {drafts.length === 0 ? null : (
        <>
          <h2>Drafts</h2>
          <StatementTable caption="Drafts, which bind nobody" statements={drafts} />
        </>
      )}
      {open.length === 0 ? null : (
        <>
          <h2>To be settled</h2>
          <ChooseProduct products={open} />
        </>
      )}
      <h2>Issued</h2>
      <StatementTable
        caption="Issued statements, by number"
        statements={issued}
        empty="None has been issued yet."
      />
    </Page>
  );
}
