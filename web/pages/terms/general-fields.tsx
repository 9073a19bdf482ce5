import { at } from '../../lib/binding.ts';
import type { Binding } from '../../lib/binding.ts';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { CheckField } from '../../parts/check-field.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { NumberField } from '../../parts/number-field.tsx';
import { TextField } from '../../parts/text-field.tsx';
import { directions, massBases, massUnits, materials, settlements } from './choices.ts';
import { CurrencyField } from './currency-field.tsx';
import { Clause } from './reading.tsx';
import type { TermsDraft } from './terms-draft.ts';

/** Who does what with which material, in what currency. */
export function MaterialFields(props: { form: Binding<TermsDraft> }) {
  const { form } = props;
  const acceptance = at(form, 'acceptance');
  const { kind } = form.value.weights;
  return (
    <Fieldset legend="Parties and material">
      <Clause
        paths={[
          '/title',
          '/direction',
          '/material',
          '/currency',
          '/settledIn',
          '/tollShareFrac',
          '/acceptance',
        ]}
        says={['Material']}
      >
        <TextField
          label="Title of the contract"
          required
          maxLength={200}
          hint="As it stands on its first page."
          {...at(form, 'title')}
        />
        <ChoiceField label="Direction" choices={directions} {...at(form, 'direction')} />
        <ChoiceField
          label="Material"
          choices={materials}
          {...at(form, 'material')}
          onChange={(material) =>
            form.update((typed) => ({
              ...typed,
              material,
              weights: { ...typed.weights, kind: material === 'dore' ? 'melt' : 'dry' },
            }))
          }
        />
        <CurrencyField label="Currency" required {...at(form, 'currency')} />
        <ChoiceField label="Settled in" choices={settlements} {...at(form, 'settledIn')} />
        {form.value.direction === 'we-toll' || form.value.tollShareFrac !== '0' ? (
          <NumberField
            label="Share of the payable metal that stays with the mill"
            unit="%"
            required
            max={100}
            {...at(form, 'tollShareFrac')}
          />
        ) : null}
        <NumberField
          label="Smallest parcel"
          unit={acceptance.value.unit}
          hint="Empty: not limited."
          {...at(acceptance, 'minimum')}
        />
        <NumberField
          label="Largest parcel"
          unit={acceptance.value.unit}
          hint="Empty: not limited."
          min={0.000001}
          {...at(acceptance, 'maximum')}
        />
        {acceptance.value.minimum === '' && acceptance.value.maximum === '' ? null : (
          <>
            <ChoiceField
              label="Parcels are measured by"
              choices={massBases(kind, acceptance.value.basis)}
              {...at(acceptance, 'basis')}
            />
            <ChoiceField label="Unit of the limits" choices={massUnits} {...at(acceptance, 'unit')} />
          </>
        )}
      </Clause>
    </Fieldset>
  );
}

/** From what is weighed to the settlement mass. */
export function WeightFields(props: { form: Binding<TermsDraft> }) {
  const { form } = props;
  const weights = at(form, 'weights');
  const { kind } = weights.value;
  return (
    <Fieldset legend="Weights">
      <Clause paths={['/weights']} says={['Weights']}>
        <ChoiceField
          label="How it is weighed"
          choices={[
            { value: 'dry', label: 'Gross, tare, moisture: dry mass' },
            { value: 'melt', label: 'Bars, melted and weighed' },
          ]}
          {...at(weights, 'kind')}
        />
        <ChoiceField label="Unit of the masses" choices={massUnits} {...at(weights, 'unit')} />
        {kind === 'dry' ? (
          <NumberField
            label="Franchise (weight loss allowed)"
            unit="% of dry mass"
            required
            max={100}
            hint="0 where the contract names none."
            {...at(weights, 'franchiseFrac')}
          />
        ) : (
          <>
            <ChoiceField
              label="Mass of record"
              choices={[
                { value: 'after-melting', label: 'After melting' },
                { value: 'received', label: 'As received' },
              ]}
              {...at(weights, 'massOfRecord')}
            />
            <NumberField
              label="Melt loss to be explained above"
              unit="%"
              max={100}
              hint="Empty: not named."
              {...at(weights, 'meltLossLimitFrac')}
            />
          </>
        )}
      </Clause>
    </Fieldset>
  );
}

/** Whether metal is valued for the lot, or values per tonne are multiplied by the mass. */
export function ValuationFields(props: { form: Binding<TermsDraft> }) {
  const valuation = at(props.form, 'valuation');
  return (
    <Clause paths={['/valuation']} says={['Valuation']}>
      <ChoiceField
        label="How the value is worked"
        choices={[
          { value: 'payable-metal', label: 'Payable metal × price' },
          { value: 'per-tonne', label: 'Values per unit of mass × settlement mass' },
        ]}
        {...at(valuation, 'kind')}
      />
      {valuation.value.kind === 'per-tonne' ? (
        <>
          <ChoiceField label="Values are per" choices={massUnits} {...at(valuation, 'unit')} />
          <CheckField
            label="Only the net value per unit is multiplied by the mass"
            {...at(valuation, 'totalPerTonne')}
          />
        </>
      ) : null}
    </Clause>
  );
}
