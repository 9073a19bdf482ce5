import type { Lot } from '../../../api/schemas/lot.ts';
import { api, send } from '../../api.ts';
import { useBooksChanged } from '../../lib/bench-queries.ts';
import { at } from '../../lib/binding.ts';
import type { Binding } from '../../lib/binding.ts';
import { useDraft } from '../../lib/drafts.ts';
import { useOwner } from '../../lib/owner.ts';
import { CheckField } from '../../parts/check-field.tsx';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { ConfirmButton } from '../../parts/confirm-button.tsx';
import { DraftNote } from '../../parts/draft-note.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { Form } from '../../parts/form.tsx';
import { NumberField } from '../../parts/number-field.tsx';
import { samplingDraftOf, samplingFromDraft } from './sampling-draft.ts';
import type { SamplingDraft } from './sampling-draft.ts';

/** How the gold sits in a lot, to say or to correct. */
export function SamplingForm(props: { lot: Lot }) {
  const { lot } = props;
  const owner = useOwner();
  const booksChanged = useBooksChanged();
  const draft = useDraft(`lot/${lot.id}/sampling`, samplingDraftOf(lot.sampling, owner));
  const { form } = draft;
  const { model } = form.value;
  return (
    <>
      <DraftNote state={draft.state} discard={draft.discard} />
      <Form
        sends="PUT /lots/:id/sampling"
        draft={draft}
        label="How the gold sits in the lot"
        saveLabel="Save how the gold sits"
        onSave={async () => {
          await send(
            api.lots[':id'].sampling.$put({
              param: { id: lot.id },
              json: samplingFromDraft(form.value, owner),
            }),
          );
          draft.saved();
          await booksChanged();
        }}
      >
        <Fieldset
          legend="How the gold sits in the lot"
          hint="Pan a little, look at the gold under a lens and screen it. Half right is better than nothing."
        >
          <ChoiceField
            label="The gold is"
            choices={[
              { value: 'coarse-gold', label: 'free, in grains of about one size' },
              { value: 'gy', label: 'still locked, in ground or screened ore' },
            ]}
            {...at(form, 'model')}
          />
          {model === 'coarse-gold' ? <GrainFields form={form} /> : <GroundFields form={form} />}
          <NumberField
            label="Gold in the grains"
            unit="%"
            required
            min={1}
            max={100}
            hint="Its fineness; the rest is taken for silver. 85 % is common."
            {...at(form, 'goldFrac')}
          />
          <NumberField
            label="Density of the grains"
            unit="g/mL"
            min={1.1}
            max={22.6}
            hint="Empty: from the fineness."
            {...at(form, 'grainDensityGpml')}
          />
          <CheckField
            label="Most of the silver is in the gold"
            hint="Then it scatters as the gold does; silver in sulfides scatters far less."
            {...at(form, 'silverWithGold')}
          />
        </Fieldset>
      </Form>
      {lot.sampling === null ? null : (
        <ConfirmButton
          sends="DELETE /lots/:id/sampling"
          label="Forget how the gold sits"
          question="The sampling error of this lot will be left out of every test smelt and lab assay again."
          confirmLabel="Forget it"
          onConfirm={async () => {
            await send(api.lots[':id'].sampling.$delete({ param: { id: lot.id } }));
            await booksChanged();
          }}
        />
      )}
    </>
  );
}

function GrainFields(props: { form: Binding<SamplingDraft> }) {
  const { form } = props;
  return (
    <>
      <NumberField
        label="Size of the gold grains"
        unit="mm"
        required
        min={0.001}
        max={100}
        hint="The size that most of the gold by mass has; rather the coarse end."
        {...at(form, 'grainSizeMm')}
      />
      <ChoiceField
        label="Shape of the grains"
        choices={[
          { value: 'nugget', label: 'about as thick as wide' },
          { value: 'flake', label: 'flakes, ten times as wide as thick' },
        ]}
        {...at(form, 'grainShape')}
      />
    </>
  );
}

function GroundFields(props: { form: Binding<SamplingDraft> }) {
  const { form } = props;
  return (
    <>
      <NumberField
        label="Top size"
        unit="mm"
        required
        min={0.001}
        max={1000}
        hint="The screen that 95 % of the lot passes."
        {...at(form, 'topSizeMm')}
      />
      <NumberField
        label="Size at which the gold is free"
        unit="mm"
        required
        min={0.0001}
        max={1000}
        hint="Ground to this, the gold no longer sits in other minerals: about the size of its grains."
        {...at(form, 'liberationSizeMm')}
      />
      <NumberField
        label="Shape factor"
        unit=""
        required
        min={0.01}
        max={1}
        hint="0.5 for common grains, 0.2 for flat gold, 1 for cubes."
        {...at(form, 'shapeFactor')}
      />
      <ChoiceField
        label="How liberation goes with size"
        choices={[
          { value: '1.5', label: 'power 1.5, proposed for gold' },
          { value: '0.5', label: 'power 0.5, Gy’s own: a larger error' },
        ]}
        {...at(form, 'liberationExponent')}
      />
    </>
  );
}
