import type { Mill } from '../../../api/schemas/mill.ts';
import type { Supply } from '../../../api/schemas/supply.ts';
import { at } from '../../lib/binding.ts';
import type { Binding } from '../../lib/binding.ts';
import { useFormat, useOwner } from '../../lib/owner.ts';
import { editableText } from '../../lib/parse-decimal.ts';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { DateField } from '../../parts/date-field.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { NumberField } from '../../parts/number-field.tsx';
import { QuantityField } from '../../parts/quantity-field.tsx';
import { RowsField } from '../../parts/rows-field.tsx';
import { TextField } from '../../parts/text-field.tsx';
import { dryOfDraft } from './day-draft.ts';
import type { DayDraft } from './day-draft.ts';
import { feedUnitChoices, feedUnitText, hasFixedWeight, tonnesPerUnit } from './feed-units.ts';

/** The fields of a day, in the order in which a shift ends: feed, concentrate, hours, people, supplies. */
export function DayFields(props: {
  form: Binding<DayDraft>;
  mill: Mill;
  supplies: readonly Supply[];
  /** Fills in the people of the day before; null where there is none. */
  samePeople: { day: string; fill: () => void } | null;
}) {
  const { form, mill, supplies, samePeople } = props;
  const owner = useOwner();
  const format = useFormat();
  const { feedUnit } = form.value;
  const dry = dryOfDraft(form.value, owner);
  const wages = supplies.filter(({ kind }) => kind === 'labour');
  const usable = supplies.filter(({ kind }) => kind !== 'labour');
  const used = new Set(form.value.supplies.map(({ supplyId }) => supplyId));
  return (
    <>
      <Fieldset legend="Feed">
        <DateField label="Day" required {...at(form, 'day')} />
        <NumberField
          label="Feed"
          unit={feedUnitText[feedUnit]}
          max={1_000_000}
          {...at(form, 'feedQuantity')}
        />
        <ChoiceField
          label="Counted in"
          choices={feedUnitChoices}
          {...at(form, 'feedUnit')}
          onChange={(unit) =>
            form.update((draft) => ({
              ...draft,
              feedUnit: unit,
              feedTonnesPerUnit: editableText(tonnesPerUnit(unit, mill), owner),
            }))
          }
        />
        {hasFixedWeight(feedUnit) ? null : (
          <NumberField
            label="One of them weighs"
            unit="t, as it comes"
            required
            min={0.000001}
            max={1000}
            hint="The usual one is in the settings."
            {...at(form, 'feedTonnesPerUnit')}
          />
        )}
        <NumberField label="Moisture of the feed" unit="%" max={99.99} {...at(form, 'feedMoistureFrac')} />
      </Fieldset>
      <Fieldset legend="Concentrate">
        <QuantityField label="Wet mass" quantity="lotMassKg" {...at(form, 'concentrateWetKg')} />
        <NumberField
          label="Moisture of the concentrate"
          unit="% of wet mass"
          required={form.value.concentrateWetKg !== ''}
          max={99.99}
          {...at(form, 'concentrateMoistureFrac')}
        />
        <NumberField label="Hours run" unit="h" max={24} {...at(form, 'hoursRun')} />
        <p className="wide" role="status">
          {dry.feedDryT === null ? 'Feed not counted' : `Feed ${dry.feedDryT} t dry`};{' '}
          {dry.concentrateDryKg === null
            ? 'concentrate not weighed.'
            : `concentrate ${format.quantity('lotMassKg', dry.concentrateDryKg)} dry.`}
        </p>
      </Fieldset>
      {samePeople === null || form.value.labour.length > 0 ? null : (
        <p>
          <button type="button" onClick={samePeople.fill}>
            Same people as on {format.date(samePeople.day)}
          </button>
        </p>
      )}
      <RowsField
        legend="People"
        hint={wages.length === 0 ? 'Enter a wage under Prices & costs first.' : undefined}
        rows={at(form, 'labour')}
        newRow={() => ({ person: '', supplyId: wages.length === 1 ? (wages[0]?.id ?? '') : '', hours: '' })}
        rowName="person"
        max={60}
      >
        {(row) => (
          <>
            <TextField label="Name" required maxLength={120} {...at(row, 'person')} />
            <NumberField label="Hours" unit="h" required min={0.01} max={24} {...at(row, 'hours')} />
            <ChoiceField
              label="Wage"
              required
              choices={wages.map(({ id, name }) => ({ value: id, label: name }))}
              {...at(row, 'supplyId')}
            />
          </>
        )}
      </RowsField>
      <RowsField
        legend="Fuel and other supplies used"
        rows={at(form, 'supplies')}
        newRow={() => ({ supplyId: '', quantity: '' })}
        rowName="supply"
        max={60}
      >
        {(row) => (
          <>
            <ChoiceField
              label="Supply"
              required
              choices={usable
                .filter(({ id }) => id === row.value.supplyId || !used.has(id))
                .map(({ id, name }) => ({ value: id, label: name }))}
              {...at(row, 'supplyId')}
            />
            <NumberField
              label="Used"
              unit={usable.find(({ id }) => id === row.value.supplyId)?.unit ?? ''}
              required
              min={0.000001}
              {...at(row, 'quantity')}
            />
          </>
        )}
      </RowsField>
      <Fieldset
        legend="Assays, where they were taken"
        hint="Dry. With feed and tailings the month says what was recovered."
      >
        <QuantityField label="Gold in the feed" quantity="gradeGpt" {...at(form, 'feedGoldGpt')} />
        <QuantityField label="Silver in the feed" quantity="gradeGpt" {...at(form, 'feedSilverGpt')} />
        <QuantityField label="Gold in the tailings" quantity="gradeGpt" {...at(form, 'tailingsGoldGpt')} />
        <QuantityField
          label="Silver in the tailings"
          quantity="gradeGpt"
          {...at(form, 'tailingsSilverGpt')}
        />
      </Fieldset>
      <TextField label="Remarks" maxLength={2000} lines={3} {...at(form, 'remarks')} />
    </>
  );
}
