import { useState } from 'react';
import type { Mill } from '../../../api/schemas/mill.ts';
import { api, send } from '../../api.ts';
import { useBooksChanged } from '../../lib/bench-queries.ts';
import { at } from '../../lib/binding.ts';
import { useDraft } from '../../lib/drafts.ts';
import { useOwner } from '../../lib/owner.ts';
import { decimalOf, editableText, shiftPoint } from '../../lib/parse-decimal.ts';
import { CheckField } from '../../parts/check-field.tsx';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { DraftNote } from '../../parts/draft-note.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { Form } from '../../parts/form.tsx';
import { NumberField } from '../../parts/number-field.tsx';
import { TextField } from '../../parts/text-field.tsx';
import { feedUnitChoices, hasFixedWeight, tonnesPerUnit } from '../days/feed-units.ts';
import { fracOfPercent } from '../lots/lot-draft.ts';

/** The mill's name, money, units, paper, and how its files are written. */
export function MillForm(props: { mill: Mill }) {
  const { isDemo: _, version: found, ...settings } = props.mill;
  // Of the settings that the form was filled with: whoever has changed them since is not overwritten.
  const [version, setVersion] = useState(found);
  const booksChanged = useBooksChanged();
  const owner = useOwner();
  const draft = useDraft('mill', {
    ...settings,
    weighingStepG: editableText(settings.weighingStepG, owner),
    feedTonnesPerUnit: editableText(settings.feedTonnesPerUnit, owner),
    feedMoistureFrac: editableText(shiftPoint(settings.feedMoistureFrac, 2), owner),
    lotScaleUncertaintyFrac: editableText(shiftPoint(settings.lotScaleUncertaintyFrac, 2), owner),
    barScaleUncertaintyG: editableText(settings.barScaleUncertaintyG, owner),
  });
  const { form } = draft;
  return (
    <>
      <DraftNote state={draft.state} discard={draft.discard} />
      <Form
        sends="PUT /mill"
        draft={draft}
        label="Settings of the mill"
        saveLabel="Save the settings"
        onSave={async () => {
          const weighingStepG = decimalOf(form.value.weighingStepG, owner) ?? settings.weighingStepG;
          const typed = form.value;
          const saved = await send(
            api.mill.$put({
              json: {
                ...typed,
                weighingStepG,
                feedTonnesPerUnit: decimalOf(typed.feedTonnesPerUnit, owner) ?? settings.feedTonnesPerUnit,
                feedMoistureFrac: fracOfPercent(typed.feedMoistureFrac, owner) ?? '0',
                lotScaleUncertaintyFrac: fracOfPercent(typed.lotScaleUncertaintyFrac, owner) ?? '0',
                barScaleUncertaintyG: decimalOf(typed.barScaleUncertaintyG, owner) ?? '0',
                version,
              },
            }),
          );
          setVersion(saved.version);
          draft.saved();
          await booksChanged();
        }}
      >
        <Fieldset legend="The mill" hint="Printed on statements and reports.">
          <TextField label="Name" required maxLength={120} {...at(form, 'name')} />
          <TextField label="Address" lines={3} maxLength={500} {...at(form, 'address')} />
        </Fieldset>
        <Fieldset legend="Money and units">
          <TextField
            label="Currency"
            required
            maxLength={3}
            hint="Three capitals (ISO 4217), such as USD. Prices on record keep the currency they were entered in."
            {...at(form, 'currency')}
          />
          <ChoiceField
            label="Mass of lots"
            {...at(form, 'massUnit')}
            choices={[
              { value: 'kg', label: 'kilograms (kg)' },
              { value: 'lb', label: 'pounds (lb)' },
            ]}
          />
          <ChoiceField
            label="Mass of gold and silver"
            {...at(form, 'metalUnit')}
            choices={[
              { value: 'ozt', label: 'troy ounces (ozt)' },
              { value: 'g', label: 'grams (g)' },
            ]}
          />
          <ChoiceField
            label="Grade"
            {...at(form, 'gradeUnit')}
            choices={[
              { value: 'g/t', label: 'grams per tonne (g/t)' },
              { value: 'oz/short ton', label: 'troy ounces per short ton' },
            ]}
          />
          <ChoiceField
            label="Temperature"
            {...at(form, 'temperatureUnit')}
            choices={[
              { value: '°C', label: 'degrees Celsius (°C)' },
              { value: '°F', label: 'degrees Fahrenheit (°F)' },
            ]}
          />
          <NumberField
            label="Scale for weighing out charges, smallest step"
            required
            unit="g"
            min={0.0001}
            max={1000}
            decimals={4}
            hint="Masses on charge sheets are rounded to it."
            {...at(form, 'weighingStepG')}
          />
        </Fieldset>
        <Fieldset legend="Feed and scales" hint="What a new day of the daily log begins with.">
          <ChoiceField
            label="Feed is counted in"
            choices={feedUnitChoices}
            {...at(form, 'feedUnit')}
            onChange={(unit) =>
              form.update((typed) => ({
                ...typed,
                feedUnit: unit,
                feedTonnesPerUnit: editableText(tonnesPerUnit(unit, props.mill), owner),
              }))
            }
          />
          {hasFixedWeight(form.value.feedUnit) ? null : (
            <NumberField
              label="One of them weighs"
              unit="t, as it comes"
              required
              min={0.000001}
              max={1000}
              hint="Weigh a few, and divide."
              {...at(form, 'feedTonnesPerUnit')}
            />
          )}
          <NumberField label="Moisture of the feed" unit="%" max={99.99} {...at(form, 'feedMoistureFrac')} />
          <NumberField
            label="Scale for lots, standard uncertainty"
            unit="% of the mass"
            max={99}
            hint="What two weighings of the same drum differ by, as a rule. 0.5 % is common."
            {...at(form, 'lotScaleUncertaintyFrac')}
          />
          <NumberField
            label="Scale for bars, standard uncertainty"
            unit="g"
            max={1000}
            {...at(form, 'barScaleUncertaintyG')}
          />
        </Fieldset>
        <Fieldset legend="Paper and files">
          <ChoiceField
            label="Paper"
            {...at(form, 'paper')}
            choices={[
              { value: 'A4', label: 'A4' },
              { value: 'Letter', label: 'Letter' },
            ]}
          />
          <ChoiceField
            label="Dates in imported files"
            hint="A date that does not fit is refused and never guessed."
            {...at(form, 'importDateOrder')}
            choices={[
              { value: 'iso', label: 'year-month-day, 2031-05-28' },
              { value: 'day-month-year', label: 'day, month, year, 28/05/2031' },
              { value: 'month-day-year', label: 'month, day, year, 05/28/2031' },
            ]}
          />
          <CheckField
            label="Decimals come after a comma"
            hint="In what is typed and in imported files: 12,5 instead of 12.5. Figures are printed with a point."
            {...at(form, 'decimalComma')}
          />
        </Fieldset>
      </Form>
    </>
  );
}
