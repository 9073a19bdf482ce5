import { useSuspenseQuery } from '@tanstack/react-query';
import { Link } from '@tanstack/react-router';
import { api, send } from '../../api.ts';
import { suppliesQuery } from '../../lib/bench-queries.ts';
import { useOwner } from '../../lib/owner.ts';
import { useAsked } from '../../lib/use-asked.ts';
import { Lead } from '../../parts/lead.tsx';
import { Page } from '../../parts/page.tsx';
import { emptyPurchase, PurchaseForm } from './purchase-form.tsx';

/** Purchases one after the other, as a bill lists them. */
export function BuyPage() {
  const { data: supplies } = useSuspenseQuery(suppliesQuery);
  const { currency } = useOwner();
  const asked = useAsked('supply');
  return (
    <Page title="Enter a purchase">
      <Lead>
        Enter each line of a bill: after saving, day, supplier and bill stay for the next one. What comes into
        stock changes the average cost of what is used from then on.
      </Lead>
      {supplies.length === 0 ? (
        <p>
          No supplies are entered yet. <Link to="/prices">Enter them first</Link>.
        </p>
      ) : (
        <PurchaseForm
          key={asked}
          name={`purchase/new ${asked}`}
          initial={emptyPurchase(asked, currency)}
          supplies={supplies}
          saveLabel="Enter this purchase"
          save={(json) => send(api['supply-purchases'].$post({ json }))}
          after="stay"
        />
      )}
      <p>
        <Link to="/supply-stock">Supplies in stock</Link>
      </p>
    </Page>
  );
}
