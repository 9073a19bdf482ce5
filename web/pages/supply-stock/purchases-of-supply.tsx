import { useSuspenseQuery } from '@tanstack/react-query';
import { Dec } from '../../../api/calc/money.ts';
import { api, send } from '../../api.ts';
import { suppliesQuery, useBooksChanged } from '../../lib/bench-queries.ts';
import { useFormat } from '../../lib/owner.ts';
import { purchasesQuery } from '../../lib/stock-queries.ts';
import { ConfirmButton } from '../../parts/confirm-button.tsx';
import { PurchaseForm } from './purchase-form.tsx';
import { amountText } from './stock-words.ts';

/** The purchases of one supply, each to be put right or taken out. */
export function PurchasesOfSupply(props: { supplyId: string }) {
  const { data: purchases } = useSuspenseQuery(purchasesQuery(props.supplyId));
  const { data: supplies } = useSuspenseQuery(suppliesQuery);
  const format = useFormat();
  const booksChanged = useBooksChanged();
  if (purchases.length === 0) return null;
  return (
    <>
      <h2>Purchases</h2>
      {purchases.map(({ id, version, supplyName, unit, ...fields }) => {
        const bought = `${amountText(fields.quantity, unit, format)} on ${format.date(fields.boughtOn)} for ${format.money(new Dec(fields.amount).toFixed(2), fields.currency)}`;
        return (
          <details key={id} className="record-form">
            <summary>
              Change: {bought}
              {fields.paidOn === null ? ', not paid yet' : ''}
            </summary>
            <PurchaseForm
              name={`purchase/${id}`}
              initial={fields}
              supplies={supplies}
              version={version}
              saveLabel="Save this purchase"
              save={(json, of) =>
                send(api['supply-purchases'][':id'].$put({ param: { id }, json: { ...json, version: of } }))
              }
              after={async () => {}}
            />
            <ConfirmButton
              sends="DELETE /supply-purchases/:id"
              label={`Remove the purchase of ${format.date(fields.boughtOn)}`}
              question={`The purchase of ${bought} of ${supplyName} will be gone, and the average cost of all that was used since is worked anew.`}
              confirmLabel="Remove it"
              onConfirm={async () => {
                await send(api['supply-purchases'][':id'].$delete({ param: { id } }));
                await booksChanged();
              }}
            />
          </details>
        );
      })}
    </>
  );
}
