import type { Quotation } from '../../../api/schemas/supply.ts';
import { quotationUnits } from '../../../api/schemas/supply.ts';
import { api, send } from '../../api.ts';
import { useBooksChanged } from '../../lib/bench-queries.ts';
import { at } from '../../lib/binding.ts';
import { useDraft } from '../../lib/drafts.ts';
import { metalName, quotedMetals } from '../../lib/metals.ts';
import { useOwner } from '../../lib/owner.ts';
import { decimalOf } from '../../lib/parse-decimal.ts';
import { todayHere } from '../../lib/today.ts';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { DateField } from '../../parts/date-field.tsx';
import { DraftNote } from '../../parts/draft-note.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { Form } from '../../parts/form.tsx';
import { NumberField } from '../../parts/number-field.tsx';
import { TextField } from '../../parts/text-field.tsx';

const unitWords: Record<Quotation['unit'], string> = {
  ozt: 'troy ounce (ozt)',
  t: 'tonne (t)',
  lb: 'pound (lb)',
  kg: 'kilogram (kg)',
  g: 'gram (g)',
};

/** The unit in which a metal is quoted here already, else the usual one. */
function unitOf(metal: string, latest: readonly Quotation[]): Quotation['unit'] {
  return (
    latest.find((one) => one.metal === metal)?.unit ??
    quotedMetals.find((one) => one.symbol === metal)?.unit ??
    't'
  );
}

/** One metal's price of one day; that of the same metal, currency, unit and day is corrected. */
export function QuotationForm(props: { latest: readonly Quotation[] }) {
  const { latest } = props;
  const owner = useOwner();
  const booksChanged = useBooksChanged();
  const start = {
    metal: 'Au',
    quotedOn: todayHere(),
    price: '',
    currency: latest.find((one) => one.metal === 'Au')?.currency ?? owner.currency,
    unit: unitOf('Au', latest),
    source: '',
  };
  const draft = useDraft('quotation/new', start);
  const { form } = draft;
  const others = [...new Set(latest.map(({ metal }) => metal))].filter(
    (metal) => !quotedMetals.some(({ symbol }) => symbol === metal),
  );
  return (
    <>
      <DraftNote state={draft.state} discard={draft.discard} />
      <Form
        sends="PUT /quotations"
        draft={draft}
        label="Quotation"
        saveLabel="Enter this quotation"
        onSave={async () => {
          const { price, ...fields } = form.value;
          await send(api.quotations.$put({ json: { ...fields, price: decimalOf(price, owner) ?? '' } }));
          await booksChanged();
          draft.saved({ ...form.value, price: '' });
        }}
      >
        <Fieldset legend="Quotation">
          <ChoiceField
            label="Metal"
            required
            {...at(form, 'metal')}
            onChange={(metal) => form.update((typed) => ({ ...typed, metal, unit: unitOf(metal, latest) }))}
            choices={[...quotedMetals.map(({ symbol }) => symbol), ...others].map((symbol) => ({
              value: symbol,
              label: `${metalName(symbol)} (${symbol})`,
            }))}
          />
          <DateField
            label="Day"
            required
            hint="The day of the quotation. A price already on record for this day is corrected."
            {...at(form, 'quotedOn')}
          />
          <NumberField
            label="Price"
            required
            unit={`${form.value.currency}/${form.value.unit}`}
            min={0.0001}
            max={1_000_000_000}
            decimals={8}
            {...at(form, 'price')}
          />
          <TextField
            label="Currency"
            required
            hint="Three capitals (ISO 4217), such as USD."
            maxLength={3}
            {...at(form, 'currency')}
          />
          <ChoiceField
            label="Per"
            required
            {...at(form, 'unit')}
            choices={quotationUnits.map((unit) => ({ value: unit, label: unitWords[unit] }))}
          />
          <TextField
            label="Source"
            maxLength={120}
            hint="Where it was read: the terms of a buyer name one."
            {...at(form, 'source')}
          />
        </Fieldset>
      </Form>
    </>
  );
}
