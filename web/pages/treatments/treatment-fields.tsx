import type { Supply } from '../../../api/schemas/supply.ts';
import { at } from '../../lib/binding.ts';
import type { Binding } from '../../lib/binding.ts';
import { useOwner } from '../../lib/owner.ts';
import type { OwnerChoices } from '../../lib/owner.ts';
import { parseDecimal } from '../../lib/parse-decimal.ts';
import { CheckField } from '../../parts/check-field.tsx';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { NumberField } from '../../parts/number-field.tsx';
import { RowsField } from '../../parts/rows-field.tsx';
import { TextField } from '../../parts/text-field.tsx';
import { ChargeFields, choicesOf } from './charge-fields.tsx';
import type { TreatmentDraft } from './treatment-draft.ts';

interface Props {
  form: Binding<TreatmentDraft>;
  supplies: readonly Supply[];
}

/** Every field of a treatment. */
export function TreatmentFields({ form, supplies }: Props) {
  return (
    <>
      <Fieldset legend="The treatment">
        <TextField
          label="Name"
          required
          maxLength={120}
          hint="As you speak of it, for example “Dead roast, then smelt”."
          {...at(form, 'name')}
        />
        <TextField label="Description" lines={2} maxLength={1000} {...at(form, 'description')} />
        <CheckField
          label="The concentrate is roasted first"
          hint="Then the recipe still counts for 100 g of concentrate before the roast."
          {...at(form, 'roast')}
        />
      </Fieldset>
      <Recipe form={form} supplies={supplies} />
      <ChargeFields form={form} supplies={supplies} />
      <ExpectationFields form={form} />
      <Fieldset legend="Use">
        <CheckField
          label="No longer used"
          hint="It stays with the tests and batches that were made by it, and is no more offered."
          {...at(form, 'retired')}
        />
      </Fieldset>
    </>
  );
}

function Recipe({ form, supplies }: Props) {
  const inCharges = supplies.filter(
    ({ kind, unit }) => unit === 'kg' && kind !== 'fuel' && kind !== 'labour' && kind !== 'crucible',
  );
  const taken = new Set(form.value.recipe.map((row) => row.supplyId));
  return (
    <RowsField
      legend="Recipe"
      hint="Everything that goes into the crucible with 100 g of dry concentrate: reagents, litharge, collector lead and iron."
      rowName="supply"
      rows={at(form, 'recipe')}
      newRow={() => ({ supplyId: '', gramsPerHundredG: '' })}
      max={40}
    >
      {(row) => (
        <>
          <ChoiceField
            label="Supply"
            required
            {...at(row, 'supplyId')}
            choices={choicesOf(inCharges.filter(({ id }) => id === row.value.supplyId || !taken.has(id)))}
          />
          <NumberField
            label="Amount"
            required
            unit="g per 100 g"
            min={0.001}
            max={10_000}
            decimals={6}
            {...at(row, 'gramsPerHundredG')}
          />
        </>
      )}
    </RowsField>
  );
}

/** A percentage as far as it can be read. */
function typedPercent(typed: string, owner: OwnerChoices): number | null {
  const parsed = parseDecimal(typed, owner);
  return parsed.ok && parsed.decimal !== null ? Number(parsed.decimal) : null;
}

function ExpectationFields({ form }: Pick<Props, 'form'>) {
  const owner = useOwner();
  const percent = { unit: '%', required: true, decimals: 6 } as const;
  return (
    <>
      <Fieldset
        legend="Lead return"
        hint="Lead in the button over all lead charged, that of the litharge counted. Matte, slag and fume keep the rest."
      >
        <NumberField label="Low" {...percent} max={100} {...at(form, 'leadReturnLowFrac')} />
        <NumberField
          label="Likely"
          {...percent}
          min={typedPercent(form.value.leadReturnLowFrac, owner) ?? 0}
          max={100}
          {...at(form, 'leadReturnModeFrac')}
        />
        <NumberField
          label="High"
          {...percent}
          min={typedPercent(form.value.leadReturnModeFrac, owner) ?? 0}
          max={100}
          {...at(form, 'leadReturnHighFrac')}
        />
      </Fieldset>
      <Fieldset
        legend="Expected recovery of gold"
        hint="What you would expect of any lot before its tests are in: test smelts and lab assays of the lot then outweigh it. Two times in three the recovery should lie within the ±; make it wide where you do not know."
      >
        <NumberField label="Gold" {...percent} min={0.1} max={99.99} {...at(form, 'goldRecoveryMeanFrac')} />
        <NumberField label="Gold, ±" {...percent} min={0.1} max={50} {...at(form, 'goldRecoverySdFrac')} />
      </Fieldset>
      <Fieldset legend="Expected recovery of silver">
        <NumberField
          label="Silver"
          {...percent}
          min={0.1}
          max={99.99}
          {...at(form, 'silverRecoveryMeanFrac')}
        />
        <NumberField
          label="Silver, ±"
          {...percent}
          min={0.1}
          max={50}
          {...at(form, 'silverRecoverySdFrac')}
        />
      </Fieldset>
      <Fieldset legend="The bar">
        <NumberField
          label="Fineness of the bar"
          unit="fine, parts in 1000"
          required
          min={1}
          max={1000}
          decimals={4}
          hint="Gold and silver together."
          {...at(form, 'doreFinenessFrac')}
        />
        <NumberField
          label="Days until the bar is made"
          unit="days"
          required
          max={3650}
          decimals={0}
          hint="From the start of a batch; the refiner’s days come on top."
          {...at(form, 'daysUntilBar')}
        />
      </Fieldset>
    </>
  );
}
