import { useSuspenseQuery } from '@tanstack/react-query';
import { Link, useNavigate } from '@tanstack/react-router';
import type { z } from 'zod';
import { api, send } from '../../api.ts';
import type { newShipment, Shipment } from '../../../api/schemas/shipment.ts';
import { useBooksChanged } from '../../lib/bench-queries.ts';
import { at } from '../../lib/binding.ts';
import { useDraft } from '../../lib/drafts.ts';
import { useFormat, useOwner } from '../../lib/owner.ts';
import type { OwnerChoices } from '../../lib/owner.ts';
import { decimalOf, editableText } from '../../lib/parse-decimal.ts';
import { shipmentQuery, shipmentsQuery, inStockQuery } from '../../lib/production-queries.ts';
import { todayHere } from '../../lib/today.ts';
import { useRecordId } from '../../lib/use-record-id.ts';
import { CheckField } from '../../parts/check-field.tsx';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { DateField } from '../../parts/date-field.tsx';
import { DraftNote } from '../../parts/draft-note.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { Form } from '../../parts/form.tsx';
import { MoneyField } from '../../parts/money-field.tsx';
import { Page } from '../../parts/page.tsx';
import { TextField } from '../../parts/text-field.tsx';
import { productWords } from '../batches/batch-words.ts';
import { productMass } from '../stock/where-words.ts';
import { counterpartiesQuery } from '../terms/terms-queries.ts';

interface ShipmentDraft {
  code: string;
  counterpartyId: string;
  shippedOn: string;
  arrivedOn: string;
  carrier: string;
  seals: string;
  insuredFor: string;
  insuredCurrency: string;
  insurer: string;
  remarks: string;
  productIds: string[];
}

const draftOf = (shipment: Shipment, owner: OwnerChoices): ShipmentDraft => ({
  code: shipment.code,
  counterpartyId: shipment.counterpartyId,
  shippedOn: shipment.shippedOn,
  arrivedOn: shipment.arrivedOn ?? '',
  carrier: shipment.carrier,
  seals: shipment.seals,
  insuredFor: editableText(shipment.insuredFor, owner),
  insuredCurrency: shipment.insuredCurrency ?? owner.currency,
  insurer: shipment.insurer,
  remarks: shipment.remarks,
  productIds: shipment.productIds,
});

function fromDraft(draft: ShipmentDraft, owner: OwnerChoices): z.input<typeof newShipment> {
  const insuredFor = decimalOf(draft.insuredFor, owner);
  return {
    ...draft,
    arrivedOn: draft.arrivedOn === '' ? null : draft.arrivedOn,
    insuredFor,
    insuredCurrency: insuredFor === null ? null : draft.insuredCurrency,
  };
}

/** The next code after the highest of the form SH-12. */
function nextCode(codes: readonly string[]): string {
  const highest = codes.reduce((top, code) => Math.max(top, Number(/^SH-(\d+)$/.exec(code)?.[1] ?? 0)), 0);
  return `SH-${String(highest + 1).padStart(2, '0')}`;
}

export function NewShipmentPage() {
  const { data: shipments } = useSuspenseQuery(shipmentsQuery(''));
  const last = shipments.rows[0];
  const owner = useOwner();
  return (
    <Page title="New shipment">
      <ShipmentForm
        name="shipment/new"
        initial={{
          code: nextCode(shipments.rows.map(({ code }) => code)),
          counterpartyId: '',
          shippedOn: todayHere(),
          arrivedOn: '',
          carrier: last?.carrier ?? '',
          seals: '',
          insuredFor: '',
          insuredCurrency: owner.currency,
          insurer: last?.insurer ?? '',
          remarks: '',
          productIds: [],
        }}
        known={[]}
        saveLabel="Enter this shipment"
        save={(body) => send(api.shipments.$post({ json: body }))}
      />
    </Page>
  );
}

export function EditShipmentPage() {
  const shipmentId = useRecordId('shipmentId');
  const { data: shipment } = useSuspenseQuery(shipmentQuery(shipmentId));
  const owner = useOwner();
  return (
    <Page title={`Change shipment ${shipment.code}`}>
      <ShipmentForm
        key={`${shipment.id} ${shipment.version}`}
        name={`shipment/${shipment.id}`}
        initial={draftOf(shipment, owner)}
        known={shipment.products}
        saveLabel="Save the shipment"
        save={(body) =>
          send(
            api.shipments[':id'].$put({
              param: { id: shipment.id },
              json: { ...body, version: shipment.version },
            }),
          )
        }
      />
      <p>
        <Link to="/shipments/$shipmentId" params={{ shipmentId }}>
          Back to shipment {shipment.code}
        </Link>
      </p>
    </Page>
  );
}

function ShipmentForm(props: {
  name: string;
  initial: ShipmentDraft;
  /** Products that are in it already. */
  known: Shipment['products'];
  saveLabel: string;
  save: (body: z.input<typeof newShipment>) => Promise<Shipment>;
}) {
  const { name, initial, known, saveLabel, save } = props;
  const { data: counterparties } = useSuspenseQuery(counterpartiesQuery);
  const { data: stock } = useSuspenseQuery(inStockQuery);
  const owner = useOwner();
  const format = useFormat();
  const draft = useDraft(name, initial);
  const navigate = useNavigate();
  const booksChanged = useBooksChanged();
  const { form } = draft;
  const products = [
    ...known.map(({ id, code, kind, massKg }) => ({ id, code, kind, leftKg: massKg })),
    ...stock.products.filter(({ shipmentId }) => shipmentId === null),
  ];
  return (
    <>
      <DraftNote state={draft.state} discard={draft.discard} />
      <Form
        sends="POST /shipments"
        draft={draft}
        saveLabel={saveLabel}
        onSave={async () => {
          const saved = await save(fromDraft(form.value, owner));
          draft.saved();
          await booksChanged();
          await navigate({ to: '/shipments/$shipmentId', params: { shipmentId: saved.id } });
        }}
      >
        <Fieldset legend="Where to">
          <TextField label="Code" required maxLength={40} {...at(form, 'code')} />
          <ChoiceField
            label="To"
            required
            none="Choose"
            choices={counterparties.map(({ id, name: label }) => ({ value: id, label }))}
            {...at(form, 'counterpartyId')}
          />
          <DateField label="Shipped on" required {...at(form, 'shippedOn')} />
          <DateField label="Arrived on" hint="Empty while it is under way." {...at(form, 'arrivedOn')} />
          <TextField label="Carrier" maxLength={120} {...at(form, 'carrier')} />
          <TextField label="Seals" maxLength={500} hint="Their numbers." {...at(form, 'seals')} />
        </Fieldset>
        <Fieldset
          legend="What goes"
          hint={
            products.length === 0
              ? 'Nothing is in stock. Products are entered on the page of their batch.'
              : 'Products in stock.'
          }
        >
          {products.map((product) => (
            <CheckField
              key={product.id}
              label={`${product.code}, ${productWords[product.kind]}, ${productMass(product, format)}`}
              value={form.value.productIds.includes(product.id)}
              onChange={(checked) =>
                form.update((typed) => ({
                  ...typed,
                  productIds: checked
                    ? [...typed.productIds, product.id]
                    : typed.productIds.filter((id) => id !== product.id),
                }))
              }
            />
          ))}
        </Fieldset>
        <Fieldset legend="Insurance">
          <MoneyField
            label="Insured for"
            currency={form.value.insuredCurrency}
            hint="Empty: not insured."
            {...at(form, 'insuredFor')}
          />
          <TextField
            label="Currency of the insurance"
            maxLength={3}
            hint="Three capitals (ISO 4217)."
            {...at(form, 'insuredCurrency')}
          />
          <TextField label="Insurer" maxLength={120} {...at(form, 'insurer')} />
        </Fieldset>
        <TextField label="Remarks" maxLength={2000} lines={3} {...at(form, 'remarks')} />
      </Form>
    </>
  );
}
