import type { ReactElement } from 'react';
import { useSuspenseQuery } from '@tanstack/react-query';
import { Link, useNavigate, useParams } from '@tanstack/react-router';
import type { Supply } from '../../../api/schemas/supply.ts';
import { api, ifMatch, send } from '../../api.ts';
import { suppliesQuery, useBooksChanged } from '../../lib/bench-queries.ts';
import { at } from '../../lib/binding.ts';
import { useDraft } from '../../lib/drafts.ts';
import { useFormat, useOwner } from '../../lib/owner.ts';
import { decimalOf } from '../../lib/parse-decimal.ts';
import { todayHere } from '../../lib/today.ts';
import { ConfirmButton } from '../../parts/confirm-button.tsx';
import { DataTable } from '../../parts/data-table.tsx';
import { DateField } from '../../parts/date-field.tsx';
import { DraftNote } from '../../parts/draft-note.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { Form } from '../../parts/form.tsx';
import { Lead } from '../../parts/lead.tsx';
import { NumberField } from '../../parts/number-field.tsx';
import { Page } from '../../parts/page.tsx';
import { SupplyForm } from './supply-form.tsx';
import { priceText, priceUnit } from './supply-words.ts';

/** A supply that is not on the list yet. */
export function NewSupplyPage(): ReactElement {
  return (
    <Page title="New supply">
      <SupplyForm
        name="supply/new"
        initial={{ name: '', kind: 'reagent', unit: 'kg', crucibleVolumeMl: null, cupelLeadCapacityG: null }}
        saveLabel="Enter this supply"
        save={(fields) => send(api.supplies.$post({ json: fields }))}
      />
    </Page>
  );
}

/** One supply: its prices as they were dated, a new price, and what it is. */
export function SupplyPage(): ReactElement {
  const { supplyId } = useParams({ from: '/prices/supplies/$supplyId' });
  const { data: supplies } = useSuspenseQuery(suppliesQuery);
  const format = useFormat();
  const today = todayHere();
  const supply = supplies.find((one) => one.id === supplyId);
  if (supply === undefined) {
    return (
      <Page title="Supply not found">
        <p>
          There is no such supply. <Link to="/prices">All supplies</Link>
        </p>
      </Page>
    );
  }
  const now = priceText(supply, today, format);
  return (
    <Page title={supply.name}>
      <Lead>{now === null ? `${supply.name} has no price yet.` : `${supply.name} costs ${now} today.`}</Lead>
      <DataTable
        caption="Prices, newest first"
        empty="No price yet. Enter one below."
        columns={[
          { key: 'from', label: 'From', align: 'start' },
          { key: 'price', label: 'Price', align: 'end' },
        ]}
        rows={supply.prices.map(({ effectiveOn, price, currency }) => ({
          key: effectiveOn,
          cells: {
            from: format.date(effectiveOn),
            price: format.money(price, priceUnit(currency, supply.unit)),
          },
        }))}
      />
      <PriceForm key={supply.id} supply={supply} />
      <h2>Change this supply</h2>
      <SupplyForm
        key={supply.id}
        name={`supply/${supply.id}`}
        initial={supply}
        version={supply.version}
        saveLabel="Save the supply"
        save={(fields, version) =>
          send(
            api.supplies[':id'].$put({
              param: { id: supply.id },
              json: { ...fields, version },
            }),
          )
        }
      />
      <div className="actions">
        <Link to="/prices">All supplies</Link>
        <RemoveSupply supply={supply} />
      </div>
    </Page>
  );
}

function RemoveSupply(props: { supply: Supply }) {
  const { id, name, version } = props.supply;
  const navigate = useNavigate();
  const booksChanged = useBooksChanged();
  return (
    <ConfirmButton
      sends="DELETE /supplies/:id"
      label="Remove this supply"
      question={`${name} and its prices will be gone. What a recipe, a test smelt or a batch names cannot be removed.`}
      confirmLabel={`Remove ${name}`}
      onConfirm={async () => {
        await send(api.supplies[':id'].$delete({ param: { id } }, ifMatch(version)));
        await navigate({ to: '/prices' });
        await booksChanged();
      }}
    />
  );
}

function PriceForm(props: { supply: Supply }) {
  const { supply } = props;
  const owner = useOwner();
  const booksChanged = useBooksChanged();
  const start = { effectiveOn: todayHere(), price: '' };
  const draft = useDraft(`supply/${supply.id} price`, start);
  const { form } = draft;
  const corrected = supply.prices.some((one) => one.effectiveOn === form.value.effectiveOn);
  return (
    <>
      <h2>New price</h2>
      <DraftNote state={draft.state} discard={draft.discard} />
      <Form
        sends="POST /supplies/:id/prices"
        draft={draft}
        label="New price"
        saveLabel={corrected ? 'Correct the price of this day' : 'Enter this price'}
        onSave={async () => {
          await send(
            api.supplies[':id'].prices.$post({
              param: { id: supply.id },
              json: {
                effectiveOn: form.value.effectiveOn,
                price: decimalOf(form.value.price, owner) ?? '',
                currency: owner.currency,
              },
            }),
          );
          await booksChanged();
          draft.saved(start);
        }}
      >
        <Fieldset legend="Price">
          <DateField
            label="Holds from"
            required
            hint={corrected ? 'There is a price of this day; it will be corrected.' : undefined}
            {...at(form, 'effectiveOn')}
          />
          <NumberField
            label="Price"
            required
            unit={priceUnit(owner.currency, supply.unit)}
            max={1_000_000_000}
            decimals={8}
            {...at(form, 'price')}
          />
        </Fieldset>
      </Form>
    </>
  );
}
