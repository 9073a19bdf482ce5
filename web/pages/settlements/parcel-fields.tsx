import type { Terms } from '../../../api/calc/terms/terms.ts';
import { at } from '../../lib/binding.ts';
import type { Binding } from '../../lib/binding.ts';
import { CheckField } from '../../parts/check-field.tsx';
import { NumberField } from '../../parts/number-field.tsx';
import { QuantityField } from '../../parts/quantity-field.tsx';
import { RowsField } from '../../parts/rows-field.tsx';
import { TextField } from '../../parts/text-field.tsx';
import type { StatementDraft } from './statement-draft.ts';

/** What was weighed: sublots with their moisture, or bars. */
export function ParcelFields(props: { form: Binding<StatementDraft>; terms: Terms }) {
  const { form, terms } = props;
  const isBars = terms.weights.kind === 'melt';
  const count = (isBars ? form.value.bars : form.value.sublots).length;
  return (
    <>
      {isBars ? <BarFields form={form} /> : <SublotFields form={form} />}
      {count > 1 || form.value.byPiece ? (
        <CheckField
          label={isBars ? 'Each bar is assayed for itself' : 'Each sublot is assayed for itself'}
          value={form.value.byPiece}
          onChange={at(form, 'byPiece').onChange}
        />
      ) : null}
    </>
  );
}

function SublotFields(props: { form: Binding<StatementDraft> }) {
  const { form } = props;
  return (
    <RowsField
      legend="Parcel"
      hint="Gross less tare is wet, less moisture is dry. One line for each drum or bag that was weighed and sampled by itself."
      rows={{ ...at(form, 'sublots'), pointer: '/parcel/sublots' }}
      newRow={() => ({ name: '', grossKg: '', tareKg: '', moistureFrac: '' })}
      rowName="sublot"
      min={1}
      max={200}
    >
      {(sublot) => (
        <>
          <TextField label="Sublot" required maxLength={60} {...at(sublot, 'name')} />
          <QuantityField label="Gross" quantity="lotMassKg" required {...at(sublot, 'grossKg')} />
          <QuantityField label="Tare" quantity="lotMassKg" required {...at(sublot, 'tareKg')} />
          <NumberField
            label="Moisture"
            unit="% of wet mass"
            required
            max={99.99}
            decimals={6}
            {...at(sublot, 'moistureFrac')}
          />
        </>
      )}
    </RowsField>
  );
}

function BarFields(props: { form: Binding<StatementDraft> }) {
  const { form } = props;
  return (
    <RowsField
      legend="Bars"
      rows={{ ...at(form, 'bars'), pointer: '/parcel/bars' }}
      newRow={() => ({ name: '', receivedG: '', afterMeltG: '' })}
      rowName="bar"
      min={1}
      max={200}
    >
      {(bar) => (
        <>
          <TextField label="Bar" required maxLength={60} {...at(bar, 'name')} />
          <QuantityField
            label="As received"
            quantity="metalMassG"
            required
            min={0.000001}
            {...at(bar, 'receivedG')}
          />
          <QuantityField
            label="After melting"
            quantity="metalMassG"
            min={0.000001}
            hint="Empty: not melted yet."
            {...at(bar, 'afterMeltG')}
          />
        </>
      )}
    </RowsField>
  );
}
