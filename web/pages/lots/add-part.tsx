import { Suspense, useState } from 'react';
import { api, send } from '../../api.ts';
import type { Lot } from '../../../api/schemas/lot.ts';
import { useBooksChanged } from '../../lib/bench-queries.ts';
import { at } from '../../lib/binding.ts';
import { useDraft } from '../../lib/drafts.ts';
import { useOwner } from '../../lib/owner.ts';
import { shownText, storedOf } from '../../lib/quantities.ts';
import { Busy } from '../../parts/busy.tsx';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { DateField } from '../../parts/date-field.tsx';
import { DraftNote } from '../../parts/draft-note.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { Form } from '../../parts/form.tsx';
import { QuantityField } from '../../parts/quantity-field.tsx';
import { sourceOf } from './lot-draft.ts';
import { FindPart } from './find-part.tsx';
import { usePartChoices } from './part-choices.ts';

/** Takes one more part into a lot that is there; what there is to take is asked for once it is unfolded. */
export function AddPart({ lot }: { lot: Lot }) {
  const [unfolded, setUnfolded] = useState(false);
  return (
    <details className="new-product" onToggle={(event) => setUnfolded(event.currentTarget.open)}>
      <summary>Add a day, lot or product</summary>
      {unfolded ? (
        <Suspense fallback={<Busy label="Looking what there is" />}>
          <PartForm lot={lot} />
        </Suspense>
      ) : null}
    </details>
  );
}

function PartForm({ lot }: { lot: Lot }) {
  const owner = useOwner();
  const booksChanged = useBooksChanged();
  const { choices: all, find } = usePartChoices();
  const choices = all.filter(({ value }) => value !== `lot:${lot.id}`);
  const start = { sourceId: '', dryMassKg: '', takenOn: lot.madeOn };
  const draft = useDraft(`lot/${lot.id}/part`, start);
  const { form } = draft;
  return (
    <>
      <DraftNote state={draft.state} discard={draft.discard} />
      <Form
        sends="POST /lots/:id/parts"
        draft={draft}
        label="Add what the lot was made from"
        saveLabel="Add it"
        onSave={async () => {
          await send(
            api.lots[':id'].parts.$post({
              param: { id: lot.id },
              json: {
                ...sourceOf(form.value.sourceId),
                dryMassKg: storedOf('lotMassKg', form.value.dryMassKg, owner) ?? '',
                takenOn: form.value.takenOn,
              },
            }),
          );
          draft.saved(start);
          await booksChanged();
        }}
      >
        <Fieldset legend="What was taken into it">
          <FindPart find={find} />
          <ChoiceField
            label="From"
            required
            none="Choose"
            choices={choices.map(({ value, label }) => ({ value, label }))}
            {...at(form, 'sourceId')}
            onChange={(value) =>
              form.update((typed) => ({
                ...typed,
                sourceId: value,
                dryMassKg: shownText(
                  'lotMassKg',
                  choices.find((one) => one.value === value)?.leftKg ?? '',
                  owner,
                ),
              }))
            }
          />
          <QuantityField label="Dry mass" quantity="lotMassKg" required {...at(form, 'dryMassKg')} />
          <DateField label="Taken on" required max={lot.madeOn} {...at(form, 'takenOn')} />
        </Fieldset>
      </Form>
    </>
  );
}
