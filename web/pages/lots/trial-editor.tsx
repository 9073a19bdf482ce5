import { api, ifMatch, send } from '../../api.ts';
import type { TrialWithSmelts } from '../../../api/schemas/test-smelt.ts';
import type { Treatment } from '../../../api/schemas/treatment.ts';
import { useBooksChanged } from '../../lib/bench-queries.ts';
import { at } from '../../lib/binding.ts';
import { useDraft } from '../../lib/drafts.ts';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { ConfirmButton } from '../../parts/confirm-button.tsx';
import { DraftNote } from '../../parts/draft-note.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { Form } from '../../parts/form.tsx';
import { TextField } from '../../parts/text-field.tsx';

/** The trials of a lot to rename, to say which treatment they try, or to remove where they are empty. */
export function TrialEditors(props: {
  trials: readonly TrialWithSmelts[];
  treatments: readonly Pick<Treatment, 'id' | 'name' | 'retired'>[];
}) {
  const { trials, treatments } = props;
  return (
    <>
      {trials.map((trial) => (
        <details key={`${trial.id} ${trial.version}`}>
          <summary>Change trial {trial.name}</summary>
          <TrialEditor trial={trial} treatments={treatments} />
        </details>
      ))}
    </>
  );
}

function TrialEditor(props: {
  trial: TrialWithSmelts;
  treatments: readonly Pick<Treatment, 'id' | 'name' | 'retired'>[];
}) {
  const { trial, treatments } = props;
  const booksChanged = useBooksChanged();
  const draft = useDraft(`trial/${trial.id}`, {
    name: trial.name,
    treatmentId: trial.treatmentId ?? '',
    remarks: trial.remarks,
  });
  const { form } = draft;
  return (
    <>
      <DraftNote state={draft.state} discard={draft.discard} />
      <Form
        sends="PUT /trials/:id"
        draft={draft}
        label={`Trial ${trial.name}`}
        saveLabel="Save the trial"
        onSave={async () => {
          const { name, treatmentId, remarks } = form.value;
          await send(
            api.trials[':id'].$put({
              param: { id: trial.id },
              json: {
                lotId: trial.lotId,
                name,
                treatmentId: treatmentId === '' ? null : treatmentId,
                remarks,
                version: trial.version,
              },
            }),
          );
          draft.saved();
          await booksChanged();
        }}
      >
        <Fieldset legend={`Trial ${trial.name}`}>
          <TextField label="Name" required maxLength={120} {...at(form, 'name')} />
          <ChoiceField
            label="Treatment it tries"
            none="None named"
            choices={treatments
              .filter((one) => !one.retired || one.id === trial.treatmentId)
              .map((one) => ({ value: one.id, label: one.name }))}
            {...at(form, 'treatmentId')}
          />
          <TextField label="Remarks" maxLength={2000} lines={2} {...at(form, 'remarks')} />
        </Fieldset>
      </Form>
      {trial.smelts.length > 0 ? null : (
        <ConfirmButton
          sends="DELETE /trials/:id"
          label="Remove this trial"
          question={`Trial ${trial.name} has no test smelt; it will be gone.`}
          confirmLabel="Remove the trial"
          onConfirm={async () => {
            await send(api.trials[':id'].$delete({ param: { id: trial.id } }, ifMatch(trial.version)));
            await booksChanged();
          }}
        />
      )}
    </>
  );
}
