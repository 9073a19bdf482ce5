import { productKinds } from '../../../api/schemas/batch.ts';
import { at } from '../../lib/binding.ts';
import type { Binding } from '../../lib/binding.ts';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { DateField } from '../../parts/date-field.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { NumberField } from '../../parts/number-field.tsx';
import { QuantityField } from '../../parts/quantity-field.tsx';
import { TextField } from '../../parts/text-field.tsx';
import { productWords } from './batch-words.ts';
import { isMetal } from './product-draft.ts';
import type { ProductDraft } from './product-draft.ts';

const contents = [
  ['goldFinenessFrac', 'goldStandardUncertaintyFrac', 'Gold'],
  ['silverFinenessFrac', 'silverStandardUncertaintyFrac', 'Silver'],
] as const;

/** The fields of a product: its mass and own assays, each with its standard uncertainty where it is known. */
export function ProductFields({ form }: { form: Binding<ProductDraft> }) {
  const { kind } = form.value;
  const metal = isMetal(kind);
  const quantity = metal ? 'metalMassG' : 'lotMassKg';
  return (
    <>
      <Fieldset legend="Product">
        <ChoiceField
          label="Kind"
          {...at(form, 'kind')}
          choices={productKinds.map((one) => ({ value: one, label: productWords[one] }))}
        />
        <TextField label="Code" required maxLength={40} {...at(form, 'code')} />
        <DateField label="Made on" required {...at(form, 'madeOn')} />
        <QuantityField
          label={kind === 'bar' ? 'Mass of the bar' : kind === 'parcel' ? 'Wet mass' : 'Mass'}
          required
          quantity={quantity}
          {...at(form, 'massKg')}
        />
        {contents.map(([field, , name]) =>
          metal ? (
            <NumberField
              key={field}
              label={`${name}, own assay`}
              unit="fine, parts in 1000"
              max={1000}
              {...at(form, field)}
            />
          ) : (
            <QuantityField
              key={field}
              label={`${name}, own assay, dry`}
              quantity="gradeGpt"
              {...at(form, field)}
            />
          ),
        )}
        <TextField label="Remarks" maxLength={2000} {...at(form, 'remarks')} />
      </Fieldset>
      <Fieldset
        legend="How sure they are"
        hint="Standard uncertainties, where you know them; empty: what the scale in the settings and assays of such a grade usually show."
      >
        <QuantityField label="± of the mass" quantity={quantity} {...at(form, 'massStandardUncertaintyKg')} />
        {contents.map(([, field, name]) =>
          metal ? (
            <NumberField
              key={field}
              label={`± of the ${name.toLowerCase()}`}
              unit="parts in 1000"
              max={1000}
              {...at(form, field)}
            />
          ) : (
            <QuantityField
              key={field}
              label={`± of the ${name.toLowerCase()}`}
              quantity="gradeGpt"
              {...at(form, field)}
            />
          ),
        )}
      </Fieldset>
    </>
  );
}
