import { at } from '../../lib/binding.ts';
import type { Binding } from '../../lib/binding.ts';
import { CheckField } from '../../parts/check-field.tsx';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { NumberField } from '../../parts/number-field.tsx';
import { RowsField } from '../../parts/rows-field.tsx';
import { TextField } from '../../parts/text-field.tsx';
import { purposes, taxBases, taxEffects } from './charge-choices.ts';
import { Clause } from './reading.tsx';
import type { TaxDraft, TermsDraft } from './terms-draft.ts';

const newTax: TaxDraft = {
  name: '',
  rateFrac: '',
  base: { kind: 'net-value', purposes: [] },
  effect: 'added',
  isPassedOn: true,
};

/** Sales tax or value added tax, and tax that the buyer withholds. */
export function TaxFields(props: { form: Binding<TermsDraft> }) {
  const { form } = props;
  return (
    <RowsField
      legend="Sales and withholding taxes"
      hint="Which apply, and at what rate, is for the law and a tax adviser to say."
      rows={at(form, 'taxes')}
      newRow={() => newTax}
      rowName="tax"
      max={10}
    >
      {(tax, index) => <OneTax tax={tax} index={index} />}
    </RowsField>
  );
}

function OneTax(props: { tax: Binding<TaxDraft>; index: number }) {
  const { tax, index } = props;
  const base = at(tax, 'base');
  return (
    <Clause
      title={tax.value.name === '' ? 'New tax' : tax.value.name}
      paths={[`/taxes/${index}`]}
      says={['Taxes']}
      only={(terms) => ({ ...terms, taxes: terms.taxes?.slice(index, index + 1) })}
    >
      <TextField label="Name" required maxLength={200} {...at(tax, 'name')} />
      <NumberField label="Rate" unit="%" required max={100} {...at(tax, 'rateFrac')} />
      <ChoiceField label="Reckoned on" choices={taxBases} {...at(base, 'kind')} />
      {base.value.kind === 'charges' ? <PurposesField base={base} /> : null}
      <ChoiceField label="Effect" choices={taxEffects} {...at(tax, 'effect')} />
      <CheckField
        label="Passed on to the tax office or claimed back"
        hint="Then it counts neither as gain nor as cost when ways of selling are compared."
        {...at(tax, 'isPassedOn')}
      />
    </Clause>
  );
}

function PurposesField(props: { base: Binding<TaxDraft['base']> }) {
  const chosen = at(props.base, 'purposes');
  return (
    <fieldset className="elements-field">
      <legend className="field-label">Only the charges for</legend>
      <p className="field-hint">None chosen: all charges.</p>
      <div className="elements-field-list">
        {purposes.map(({ value, label }) => (
          <CheckField
            key={value}
            label={label}
            value={chosen.value.includes(value)}
            onChange={(isChosen) =>
              chosen.update((list) => (isChosen ? [...list, value] : list.filter((one) => one !== value)))
            }
          />
        ))}
      </div>
    </fieldset>
  );
}
