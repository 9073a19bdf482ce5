import type { Supply } from '../../../api/schemas/supply.ts';
import { at } from '../../lib/binding.ts';
import type { Binding } from '../../lib/binding.ts';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { MoneyField } from '../../parts/money-field.tsx';
import { NumberField } from '../../parts/number-field.tsx';
import { QuantityField } from '../../parts/quantity-field.tsx';
import { unitWords } from '../prices/supply-words.ts';
import type { TreatmentDraft } from './treatment-draft.ts';

/** Supplies to choose from. */
export const choicesOf = (supplies: readonly Supply[]) =>
  supplies.map(({ id, name }) => ({ value: id, label: name }));

/** What one crucible takes, and what that takes of time and supplies. */
export function ChargeFields(props: { form: Binding<TreatmentDraft>; supplies: readonly Supply[] }) {
  const { form, supplies } = props;
  const ofKind = (kind: Supply['kind']): Supply[] => supplies.filter((supply) => supply.kind === kind);
  const fuel = supplies.find(({ id }) => id === form.value.fuelSupplyId);
  return (
    <Fieldset legend="One charge" hint="What one crucible takes, and what that takes of time and supplies.">
      <QuantityField
        label="Concentrate in a charge, dry"
        quantity="lotMassKg"
        required
        min={0.001}
        hint="The crucible two thirds full at most when the charge is cold; less where nitre boils."
        {...at(form, 'chargeSizeKg')}
      />
      {form.value.roast ? (
        <NumberField
          label="Roasting, hours"
          unit="h per charge"
          max={200}
          hint="Until it no longer smokes, for the concentrate of one charge."
          {...at(form, 'roastHoursPerCharge')}
        />
      ) : null}
      {form.value.roast ? (
        <QuantityField
          label="Concentrate in a roast pan, dry"
          quantity="lotMassKg"
          min={0.001}
          hint="Thin enough to rake through. Empty: a charge goes into one pan."
          {...at(form, 'roastPanKg')}
        />
      ) : null}
      <NumberField
        label="Furnace, hours"
        unit="h per charge"
        max={200}
        hint="From lighting, or from the last pour, to the pour."
        {...at(form, 'furnaceHoursPerCharge')}
      />
      <NumberField
        label="Labour, hours"
        unit="h per charge"
        max={200}
        hint="Paid hours: roasting, mixing, pouring, cupelling, cleaning up."
        {...at(form, 'labourHoursPerCharge')}
      />
      <ChoiceField
        label="Whose wage"
        none="None"
        choices={choicesOf(ofKind('labour'))}
        {...at(form, 'labourSupplyId')}
      />
      <ChoiceField
        label="Fuel"
        none="None"
        choices={choicesOf(ofKind('fuel'))}
        {...at(form, 'fuelSupplyId')}
      />
      <NumberField
        label="Fuel burnt"
        unit={
          fuel === undefined
            ? 'per charge'
            : `${fuel.unit === 'each' ? unitWords.each : fuel.unit} per charge`
        }
        max={100_000}
        hint="Roasting included."
        {...at(form, 'fuelPerCharge')}
      />
      <ChoiceField
        label="Crucible"
        none="None"
        choices={choicesOf(ofKind('crucible'))}
        {...at(form, 'crucibleSupplyId')}
      />
      <NumberField
        label="Crucible life"
        unit="charges"
        required
        min={0.1}
        max={10_000}
        hint="How many charges one lasts; litharge and nitre eat it faster."
        {...at(form, 'crucibleLifeCharges')}
      />
      <ChoiceField
        label="Cupel"
        none="None"
        hint="Counted on the charge sheet by the lead that one can take up."
        choices={choicesOf(ofKind('cupel'))}
        {...at(form, 'cupelSupplyId')}
      />
      <MoneyField
        label="Waste disposal"
        per="kg"
        max={10_000}
        hint="For slag, cupels and dust, per kg of concentrate."
        {...at(form, 'wasteCostPerKg')}
      />
    </Fieldset>
  );
}
