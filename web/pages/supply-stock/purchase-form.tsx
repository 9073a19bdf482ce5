import { useState } from 'react';
import type { SupplyPurchase } from '../../../api/schemas/supply-stock.ts';
import type { Supply } from '../../../api/schemas/supply.ts';
import { useBooksChanged } from '../../lib/bench-queries.ts';
import { at } from '../../lib/binding.ts';
import { useDraft } from '../../lib/drafts.ts';
import { useOwner } from '../../lib/owner.ts';
import { decimalOf, editableText } from '../../lib/parse-decimal.ts';
import { todayHere } from '../../lib/today.ts';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { DateField } from '../../parts/date-field.tsx';
import { DraftNote } from '../../parts/draft-note.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { Form } from '../../parts/form.tsx';
import { NumberField } from '../../parts/number-field.tsx';
import { TextField } from '../../parts/text-field.tsx';

export type PurchaseFields = Omit<SupplyPurchase, 'id' | 'version' | 'supplyName' | 'unit'>;

/** As an empty purchase of a supply, or of none yet. */
export function emptyPurchase(supplyId: string, currency: string): PurchaseFields {
  return {
    supplyId,
    boughtOn: todayHere(),
    quantity: '',
    amount: '',
    currency,
    supplier: '',
    document: '',
    paidOn: null,
    remarks: '',
  };
}

/** The fields of a purchase, as the bill has them. */
export function PurchaseForm(props: {
  name: string;
  initial: PurchaseFields;
  supplies: readonly Supply[];
  /** Of the purchase that is changed; none for a new one. */
  version?: number;
  saveLabel: string;
  save: (fields: PurchaseFields, version: number) => Promise<{ version: number }>;
  /** After saving: where to go. A form for one after the other stays, and keeps day, supplier and bill. */
  after: 'stay' | (() => Promise<void>);
}) {
  const { name, initial, supplies, version: found, saveLabel, save, after } = props;
  const [version, setVersion] = useState(found ?? 0);
  const owner = useOwner();
  const booksChanged = useBooksChanged();
  const draft = useDraft(name, {
    ...initial,
    quantity: editableText(initial.quantity, owner),
    amount: editableText(initial.amount, owner),
    paidOn: initial.paidOn ?? '',
  });
  const { form } = draft;
  const unit = supplies.find(({ id }) => id === form.value.supplyId)?.unit;
  return (
    <>
      <DraftNote state={draft.state} discard={draft.discard} />
      <Form
        sends="POST /supply-purchases"
        // A change is of a version, which another change may have overtaken: only what is new waits.
        draft={found === undefined ? draft : undefined}
        label="Purchase"
        saveLabel={saveLabel}
        onSave={async () => {
          const { quantity, amount, paidOn, ...fields } = form.value;
          const saved = await save(
            {
              ...fields,
              quantity: decimalOf(quantity, owner) ?? '',
              amount: decimalOf(amount, owner) ?? '',
              paidOn: paidOn === '' ? null : paidOn,
            },
            version,
          );
          setVersion(saved.version);
          draft.saved(
            after === 'stay'
              ? { ...form.value, supplyId: '', quantity: '', amount: '', remarks: '' }
              : undefined,
          );
          await booksChanged();
          if (after !== 'stay') await after();
        }}
      >
        <Fieldset legend="Purchase">
          <ChoiceField
            label="Supply"
            required
            {...at(form, 'supplyId')}
            choices={supplies
              .filter(({ kind }) => kind !== 'labour')
              .map(({ id, name: label }) => ({ value: id, label }))}
          />
          <DateField label="Bought on" required max={todayHere()} {...at(form, 'boughtOn')} />
          <NumberField
            label="Quantity"
            required
            unit={unit === 'each' ? 'pieces' : (unit ?? '')}
            max={10_000_000}
            {...at(form, 'quantity')}
          />
          <NumberField
            label="What it cost in all"
            required
            unit={form.value.currency}
            max={1_000_000_000}
            decimals={2}
            hint="With freight, without tax that is paid back."
            {...at(form, 'amount')}
          />
          <TextField
            label="Currency"
            required
            maxLength={3}
            hint="Three capitals (ISO 4217). For another than the mill’s, enter the exchange rate first."
            {...at(form, 'currency')}
          />
        </Fieldset>
        <Fieldset legend="Bill">
          <TextField label="Supplier" maxLength={120} {...at(form, 'supplier')} />
          <TextField label="Number of the bill" maxLength={120} {...at(form, 'document')} />
          <DateField label="Paid on" hint="Empty while it is not paid." {...at(form, 'paidOn')} />
          <TextField label="Remarks" lines={2} maxLength={2000} {...at(form, 'remarks')} />
        </Fieldset>
      </Form>
    </>
  );
}
