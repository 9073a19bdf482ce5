import { useState } from 'react';
import type { ReactElement } from 'react';
import { useSuspenseQuery } from '@tanstack/react-query';
import { Link, useNavigate, useParams } from '@tanstack/react-router';
import type { Supply } from '../../../api/schemas/supply.ts';
import { supplyKinds } from '../../../api/schemas/supply.ts';
import { api, send } from '../../api.ts';
import { suppliesQuery, useBooksChanged } from '../../lib/bench-queries.ts';
import { at } from '../../lib/binding.ts';
import { useDraft } from '../../lib/drafts.ts';
import { useFormat, useOwner } from '../../lib/owner.ts';
import type { OwnerChoices } from '../../lib/owner.ts';
import { decimalOf, editableText, numberOf, shiftPoint } from '../../lib/parse-decimal.ts';
import { todayHere } from '../../lib/today.ts';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { ConfirmButton } from '../../parts/confirm-button.tsx';
import { DataTable } from '../../parts/data-table.tsx';
import { DateField } from '../../parts/date-field.tsx';
import { DraftNote } from '../../parts/draft-note.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { Form } from '../../parts/form.tsx';
import { Lead } from '../../parts/lead.tsx';
import { NumberField } from '../../parts/number-field.tsx';
import { Page } from '../../parts/page.tsx';
import { TextField } from '../../parts/text-field.tsx';
import { oneOfKind, priceText, priceUnit, unitWords } from './supply-words.ts';

type SupplyFields = Pick<Supply, 'name' | 'kind' | 'unit' | 'crucibleVolumeMl' | 'cupelLeadCapacityG'>;

/** As it is typed: a crucible in litres. */
type SupplyDraft = Pick<Supply, 'name' | 'kind' | 'unit'> & {
  crucibleVolumeMl: string;
  cupelLeadCapacityG: string;
};

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
  const { id, name } = props.supply;
  const navigate = useNavigate();
  const booksChanged = useBooksChanged();
  return (
    <ConfirmButton
      label="Remove this supply"
      question={`${name} and its prices will be gone. What a recipe, a test smelt or a batch names cannot be removed.`}
      confirmLabel={`Remove ${name}`}
      onConfirm={async () => {
        await send(api.supplies[':id'].$delete({ param: { id } }));
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

/** What is sent; a size only with what has one. */
function fieldsOf(typed: SupplyDraft, owner: OwnerChoices): SupplyFields {
  const litres = typed.kind === 'crucible' ? decimalOf(typed.crucibleVolumeMl, owner) : null;
  return {
    name: typed.name,
    kind: typed.kind,
    unit: typed.unit,
    crucibleVolumeMl: litres === null ? null : Number(shiftPoint(litres, 3)),
    cupelLeadCapacityG: typed.kind === 'cupel' ? numberOf(typed.cupelLeadCapacityG, owner) : null,
  };
}

function SupplyForm(props: {
  name: string;
  initial: SupplyFields;
  /** Of the supply that is changed; none for a new one. */
  version?: number;
  saveLabel: string;
  save: (fields: SupplyFields, version: number) => Promise<Supply>;
}) {
  const { name, initial, version: found, saveLabel, save } = props;
  const [version, setVersion] = useState(found ?? 0);
  const owner = useOwner();
  const litres = initial.crucibleVolumeMl === null ? null : shiftPoint(String(initial.crucibleVolumeMl), -3);
  const draft = useDraft<SupplyDraft>(name, {
    name: initial.name,
    kind: initial.kind,
    unit: initial.unit,
    crucibleVolumeMl: editableText(litres, owner),
    cupelLeadCapacityG: editableText(initial.cupelLeadCapacityG, owner),
  });
  const navigate = useNavigate();
  const booksChanged = useBooksChanged();
  const { form } = draft;
  return (
    <>
      <DraftNote state={draft.state} discard={draft.discard} />
      <Form
        label="Supply"
        saveLabel={saveLabel}
        onSave={async () => {
          const supply = await save(fieldsOf(form.value, owner), version);
          setVersion(supply.version);
          draft.saved();
          await booksChanged();
          await navigate({ to: '/prices/supplies/$supplyId', params: { supplyId: supply.id } });
        }}
      >
        <Fieldset legend="Supply">
          <TextField label="Name" required maxLength={120} {...at(form, 'name')} />
          <ChoiceField
            label="What it is"
            required
            hint="Lead that is charged comes back in part; litharge counts as lead and as flux; iron and reagents are used up."
            {...at(form, 'kind')}
            choices={supplyKinds.map((kind) => ({ value: kind, label: oneOfKind[kind] }))}
          />
          <ChoiceField
            label="Bought by the"
            required
            hint="Whatever goes into a charge is bought by the kg, crucibles by the piece, labour by the hour."
            {...at(form, 'unit')}
            choices={(['kg', 'L', 'each', 'h'] as const).map((unit) => ({
              value: unit,
              label: unitWords[unit],
            }))}
          />
          {form.value.kind === 'crucible' ? (
            <NumberField
              label="Volume to the brim"
              unit="L"
              min={0.001}
              max={10_000}
              hint="Charge sheets hold the charge against it. Measure it with water, and dry it well."
              {...at(form, 'crucibleVolumeMl')}
            />
          ) : null}
          {form.value.kind === 'cupel' ? (
            <NumberField
              label="Lead that one can take up"
              unit="g"
              min={0.1}
              max={1_000_000}
              hint="A bone ash cupel takes up about its own weight."
              {...at(form, 'cupelLeadCapacityG')}
            />
          ) : null}
        </Fieldset>
      </Form>
    </>
  );
}
