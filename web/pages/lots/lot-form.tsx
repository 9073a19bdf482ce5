import { Dec } from '../../../api/calc/money.ts';
import { mineralNames } from '../../../api/schemas/lot.ts';
import type { Season } from '../../../api/schemas/mill.ts';
import { at } from '../../lib/binding.ts';
import type { Binding } from '../../lib/binding.ts';
import { useFormat, useOwner } from '../../lib/owner.ts';
import type { OwnerChoices } from '../../lib/owner.ts';
import { parseDecimal } from '../../lib/parse-decimal.ts';
import { storedDecimal } from '../../lib/quantities.ts';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { DateField } from '../../parts/date-field.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { NumberField } from '../../parts/number-field.tsx';
import { QuantityField } from '../../parts/quantity-field.tsx';
import { RowsField } from '../../parts/rows-field.tsx';
import { TextField } from '../../parts/text-field.tsx';
import type { LotDraft } from './lot-draft.ts';

/** Wet mass less moisture, in kg, as it is typed; null until both can be read. */
function dryMassKgOf(draft: LotDraft, owner: OwnerChoices): string | null {
  const wet = parseDecimal(draft.wetMassKg, owner);
  const moisture = parseDecimal(draft.moistureFrac, owner);
  if (!wet.ok || !moisture.ok || wet.decimal === null || moisture.decimal === null) return null;
  const percent = new Dec(moisture.decimal);
  if (percent.lessThan(0) || percent.greaterThanOrEqualTo(100)) return null;
  return new Dec(storedDecimal('lotMassKg', wet.decimal, owner))
    .times(new Dec(100).minus(percent))
    .div(100)
    .toFixed();
}

/** What the minerals typed so far add up to, percent; what cannot be read counts as nothing. */
function mineralPercent(draft: LotDraft, owner: OwnerChoices): number {
  return draft.minerals.reduce((sum, { massFrac }) => {
    const parsed = parseDecimal(massFrac, owner);
    return sum + (parsed.ok && parsed.decimal !== null ? Number(parsed.decimal) : 0);
  }, 0);
}

/** The fields of a lot, new or known. */
export function LotFields(props: { form: Binding<LotDraft>; seasons: readonly Season[] }) {
  const { form, seasons } = props;
  const owner = useOwner();
  const format = useFormat();
  const season = seasons.find((one) => one.id === form.value.seasonId);
  const dryMassKg = dryMassKgOf(form.value, owner);
  const named = mineralPercent(form.value, owner);
  const taken = new Set(form.value.minerals.map((one) => one.mineral));
  return (
    <>
      <Fieldset legend="The lot">
        <TextField
          label="Code"
          required
          maxLength={40}
          hint="As it is written on the drum, for example L-07."
          {...at(form, 'code')}
        />
        <TextField
          label="Description"
          maxLength={500}
          hint="Where it came from and what it looks like."
          {...at(form, 'description')}
        />
        <ChoiceField
          label="Season"
          required
          choices={seasons.map((one) => ({ value: one.id, label: one.name }))}
          {...at(form, 'seasonId')}
        />
        <DateField
          label="Made on"
          required
          min={season?.startsOn}
          max={season?.endsOn}
          {...at(form, 'madeOn')}
        />
      </Fieldset>
      <Fieldset legend="Mass">
        <QuantityField
          label="Wet mass"
          quantity="lotMassKg"
          required
          hint="As weighed, with its water, without the drum."
          {...at(form, 'wetMassKg')}
        />
        <NumberField
          label="Moisture"
          unit="% of wet mass"
          required
          max={99.99}
          decimals={6}
          hint="Weigh a sample, dry it, weigh it again: loss over wet mass."
          {...at(form, 'moistureFrac')}
        />
        <p className="wide" role="status">
          {dryMassKg === null
            ? 'The dry mass follows from wet mass and moisture.'
            : `Dry mass: ${format.quantity('lotMassKg', dryMassKg)}.`}
        </p>
      </Fieldset>
      <RowsField
        legend="Minerals"
        hint="As far as they are known, in percent of the dry mass: they size the charge and warn of arsenic. Half right is better than empty."
        rows={at(form, 'minerals')}
        newRow={() => ({ mineral: '', massFrac: '' })}
        rowName="mineral"
        max={mineralNames.length}
      >
        {(row) => (
          <>
            <ChoiceField
              label="Mineral"
              required
              choices={mineralNames
                .filter((name) => name === row.value.mineral || !taken.has(name))
                .map((name) => ({ value: name, label: name }))}
              {...at(row, 'mineral')}
            />
            <NumberField
              label="Share of dry mass"
              unit="%"
              required
              min={0.0001}
              max={100}
              decimals={6}
              {...at(row, 'massFrac')}
            />
          </>
        )}
      </RowsField>
      {form.value.minerals.length === 0 ? null : (
        <p role="status">
          {named > 100
            ? `The minerals add up to ${format.number(named, 1)} %, which is more than the whole.`
            : `Named so far: ${format.number(named, 1)} %. What is not named is taken to do nothing in the fire.`}
        </p>
      )}
      <TextField label="Remarks" maxLength={2000} lines={3} {...at(form, 'remarks')} />
    </>
  );
}
